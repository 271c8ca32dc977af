"""Files that are unusual but true pass every rule without a finding."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.ingest.contracts.faults.model import Row, row
from tests.ingest.contracts.faults.writing import csv_bytes
from tests.ingest.contracts.loading import load


@dataclass(frozen=True)
class Honest:
    """An unusual but true file: changes to the feed's good row, once for each row."""

    name: str
    feed: str
    rows: tuple[Row, ...]


def _draw(number: int, cycle: int, pupil: str, day: str, **more: object) -> Row:
    return row(
        draw_id=f"drw-9{number:03d}",
        drawn_on=day,
        sequence_number=number,
        method="cycle",
        cycle_number=cycle,
        pupil_id=pupil,
        eligible_count="",
        **more,
    )


FILES = (
    Honest(
        "several short practices of one routine on one day, by one teacher",
        "routine_lessons",
        (
            row(lesson_kind="practice_only", started_at_local="08:30", minutes=3),
            row(
                lesson_id="les-902",
                lesson_kind="practice_only",
                started_at_local="09:30",
                minutes=3,
            ),
            row(lesson_id="les-903", lesson_kind="practice_only", started_at_local="", minutes=3),
        ),
    ),
    Honest(
        "a lesson that two teachers gave together, as one row",
        "routine_lessons",
        (row(class_id="qb-oak", taught_by="st-003;st-004", pupils_present=4),),
    ),
    Honest(
        "practice at home in the afternoon of a morning class",
        "routine_lessons",
        (row(class_id="qb-robin", mode="at_home", started_at_local="17:00", pupils_present=4),),
    ),
    Honest(
        "a lesson in which nobody counted children, steps or minutes",
        "routine_lessons",
        (row(pupils_present="", steps_done="", minutes=""),),
    ),
    Honest(
        "a lesson of the old wording, with the old number of steps",
        "routine_lessons",
        (
            row(
                routine_id="fair-turns",
                taught_on="2025-09-30",
                steps_done=3,
                entered_at="2025-10-01T07:00:00Z",
            ),
        ),
    ),
    Honest(
        "an absent child gets the turn of the last round in the next one",
        "participation_draws",
        (
            _draw(1, 3, "pu-0001", "2025-10-08"),
            _draw(2, 3, "pu-0002", "2025-10-08"),
            _draw(3, 3, "pu-0003", "2025-10-08", outcome="absent"),
            _draw(4, 3, "pu-0004", "2025-10-08"),
            _draw(5, 3, "pu-0006", "2025-10-08"),
            _draw(6, 4, "pu-0001", "2025-10-08"),
            _draw(7, 3, "pu-0003", "2025-10-08"),
        ),
    ),
    Honest(
        "all answer together, so that no child is named",
        "participation_draws",
        (row(method="choral", pupil_id=""),),
    ),
    Honest(
        "terms with a holiday between them",
        "terms",
        (
            row(kind="semester", term_id="h1", parent_term_id="qb-2026", last_on="2025-12-19"),
            row(
                kind="semester",
                term_id="h2",
                parent_term_id="qb-2026",
                first_on="2026-01-05",
                last_on="2026-06-19",
            ),
        ),
    ),
    Honest(
        "the next school year, known only as far as its first day",
        "school_days",
        (row(day_on="2026-09-07"),),
    ),
    Honest(
        "a day on which one grade and one class stay at home",
        "school_days",
        (
            row(day_kind="staff_only", applies_to="KG"),
            row(day_kind="closed_planned", applies_to="qb-oak"),
        ),
    ),
    Honest(
        "a child who changes class, leaving the one on the day of joining the other",
        "memberships",
        (
            row(
                person_id="pu-0022",
                class_id="qb-oak",
                end_on="2025-10-13",
                is_primary="",
                is_draw_eligible="",
            ),
            row(person_id="pu-0022", begin_on="2025-10-13"),
        ),
    ),
    Honest(
        "a child who also goes to another class that is not the home class",
        "memberships",
        (row(person_id="pu-0011", begin_on="2025-09-08", is_primary="false"),),
    ),
    Honest(
        "a membership that was never in force",
        "memberships",
        (row(person_id="pu-0011", begin_on="2025-09-08", end_on="2025-09-08", is_primary="false"),),
    ),
    Honest(
        "the second version of a plan, beginning when the first has ended",
        "teaching_plan",
        (row(class_id="qb-willow", routine_id="settle", lesson_kind="full", plan_version=2),),
    ),
    Honest(
        "two observers who watch together, and one who walks on to the next room",
        "observation_sessions",
        (
            row(pair_id="pair-8", purpose="agreement"),
            row(
                observation_id="obs-92", pair_id="pair-8", purpose="agreement", observer_id="st-010"
            ),
            row(
                observation_id="obs-93",
                class_id="qb-oak",
                started_at_local="11:03",
                pupils_present=4,
            ),
        ),
    ),
    Honest(
        "help that fades and is taken up again",
        "coaching_events",
        (
            row(event_on="2025-10-06", event_kind="model", phase="coaching"),
            row(event_id="cev-92", event_on="2025-10-07", event_kind="check_in", phase="fade"),
            row(event_id="cev-93", event_kind="rehearse", phase="coaching"),
        ),
    ),
    Honest(
        "a team that meets on a day without school and decides once more on the same day",
        "offer_decisions",
        (
            row(decided_on="2025-10-11", entered_at="2025-10-11T09:00:00-04:00"),
            row(
                decision_id="dec-92",
                decision="close",
                decided_on="2025-10-11",
                follow_up_on="",
                entered_at="2025-10-11T09:05:00-04:00",
            ),
        ),
    ),
    Honest(
        "a last check in the week after a support has ended",
        "support_checks",
        (row(support_id="sup-01", checked_on="2025-10-09"),),
    ),
)


@pytest.mark.parametrize("honest", FILES, ids=[one.name for one in FILES])
def test_an_honest_file_stays_quiet(honest: Honest, school: Path) -> None:
    path = school / f"{honest.feed}.csv"
    path.write_bytes(csv_bytes(honest.feed, honest.rows))

    [report] = load(school, path)

    assert [(one.rule, one.line, one.message) for one in report.findings] == []
    assert report.accepted == report.received == len(honest.rows)
