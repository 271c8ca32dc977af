"""Faults of the roster as plain files; those of a OneRoster set are tested with its reader."""

from __future__ import annotations

from .model import (
    Fault,
    aside,
    refused,
    row,
    warned,
    warned_of_file,
)


def _ended(person: str) -> dict[str, str]:
    return dict(row(person_id=person, end_on="2025-10-10"))


def _still(class_id: str, person: str) -> dict[str, str]:
    primary = "" if class_id == "qb-oak" else "true"
    eligible = {"qb-oak": "", "pu-0013": "false"}.get(class_id, "true")
    cells = row(class_id=class_id, person_id=person, is_primary=primary, is_draw_eligible=eligible)
    return dict(cells)


ROSTER = (
    Fault(
        "same_child_two_keys",
        "people",
        (
            row(),
            row(person_id="pu-0092", given_name="ansel"),
            row(person_id="pu-0093", given_name="Ida"),
        ),
        warned("same_child_two_keys", "person_id", 2, 3),
    ),
    Fault(
        "person_key_reused",
        "people",
        (row(person_id="pu-0001", role="teacher"),),
        aside("person_key_reused", "person_id"),
    ),
    Fault(
        "class_key_reused",
        "classes",
        (row(class_id="qb-willow", title="Willow"),),
        aside("class_key_reused", "class_id"),
    ),
    Fault(
        "membership_to_unknown_class",
        "memberships",
        (row(class_id="qb-hazel"), row()),
        aside("unknown_reference", "class_id"),
    ),
    Fault(
        "overlapping_home_classes",
        "memberships",
        (row(class_id="qb-oak", person_id="pu-0011", begin_on="2025-09-15"), row()),
        aside("overlapping_home_classes", "begin_on"),
    ),
    Fault(
        "membership_ends_before_it_begins",
        "memberships",
        (row(begin_on="2025-09-10", end_on="2025-09-01"),),
        aside("membership_ends_before_it_begins", "end_on"),
    ),
    Fault(
        "two_main_teachers_without_shares",
        "memberships",
        (row(person_id="st-004", role="teacher"),),
        warned("two_main_teachers_without_shares", "share"),
    ),
    Fault(
        "class_without_teacher",
        "memberships",
        (row(class_id="qb-maple"),),
        warned_of_file("class_without_teacher", "class_id"),
        before={"classes": (row(),)},
    ),
    Fault(
        "roster_collapse",
        "memberships",
        tuple(_ended(f"pu-000{number}") for number in (1, 2, 3)),
        refused("roster_collapse", "person_id"),
    ),
    Fault(
        "roster_collapse_by_leaving_out",
        "memberships",
        tuple(_still("qb-willow", f"pu-000{number}") for number in (1, 2, 3, 4))
        + tuple(_still("qb-oak", f"pu-002{number}") for number in (1, 2, 3, 4)),
        refused("roster_collapse", "person_id"),
    ),
)
