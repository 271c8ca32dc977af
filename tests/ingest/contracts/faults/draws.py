"""Faults of draws."""

from __future__ import annotations

from .model import (
    Fault,
    Row,
    aside,
    row,
    warned,
    warned_of_file,
)

_IN_CLASS = ("pu-0001", "pu-0002", "pu-0003", "pu-0004", "pu-0006")


def _round(number: int, cycle: int, pupil: str, day: str = "2025-10-08", place: int = 0) -> Row:
    return row(
        draw_id=f"drw-9{number:03d}",
        drawn_on=day,
        sequence_number=place or number,
        method="cycle",
        cycle_number=cycle,
        pupil_id=pupil,
        eligible_count="",
    )


def _one_after_another(days: tuple[str, ...], each: int) -> tuple[Row, ...]:
    return tuple(
        row(
            draw_id=f"drw-9{index * each + place:03d}",
            drawn_on=day,
            sequence_number=place + 1,
            pupil_id=_IN_CLASS[place % 5],
            entered_at=f"{day}T14:{place:02d}:00+00:00",
        )
        for index, day in enumerate(days)
        for place in range(each)
    )


DRAWS = (
    Fault(
        "child_missing",
        "participation_draws",
        (
            row(method="choral", pupil_id=""),
            row(draw_id="drw-9002", sequence_number="2", pupil_id=""),
        ),
        aside("child_missing", "pupil_id", 3),
    ),
    Fault(
        "wait_in_milliseconds",
        "participation_draws",
        (row(), row(draw_id="drw-9002", sequence_number="2", wait_seconds="3200")),
        aside("wait_in_milliseconds", "wait_seconds", 3),
    ),
    Fault(
        "pupil_not_in_class",
        "participation_draws",
        (row(pupil_id="pu-0021"), row(draw_id="drw-9002", sequence_number="2")),
        aside("pupil_not_in_class", "pupil_id"),
    ),
    Fault(
        "leaver_still_in",
        "participation_draws",
        (row(pupil_id="pu-0005"), row(draw_id="drw-9002", sequence_number="2")),
        aside("leaver_still_in", "pupil_id"),
    ),
    Fault(
        "pupil_twice_in_cycle",
        "participation_draws",
        (_round(1, 3, "pu-0001"), _round(2, 3, "pu-0002"), _round(3, 3, "pu-0001")),
        warned("pupil_twice_in_cycle", "pupil_id", 4),
    ),
    Fault(
        "cycle_closed_pupils_undrawn",
        "participation_draws",
        (
            _round(1, 3, "pu-0001"),
            _round(2, 3, "pu-0002"),
            _round(3, 4, "pu-0003", "2025-10-09", 1),
        ),
        warned("cycle_closed_pupils_undrawn", "cycle_number", 4),
    ),
    Fault(
        "cycle_number_jumps",
        "participation_draws",
        (_round(1, 5, "pu-0001"), _round(2, 5, "pu-0002")),
        warned("cycle_number_jumps", "cycle_number"),
    ),
    Fault(
        "parallel_cycles",
        "participation_draws",
        (
            _round(1, 3, "pu-0001"),
            _round(2, 4, "pu-0002"),
            _round(3, 3, "pu-0003"),
            _round(4, 4, "pu-0004"),
            _round(5, 3, "pu-0006"),
            _round(6, 4, "pu-0001"),
            _round(7, 3, "pu-0002"),
            _round(8, 4, "pu-0003"),
            _round(9, 3, "pu-0004"),
        ),
        warned("parallel_cycles", "cycle_number", 4, 6, 8, 10),
    ),
    Fault(
        "sequence_gaps",
        "participation_draws",
        (row(), row(draw_id="drw-9002", sequence_number="4", pupil_id="pu-0002")),
        warned("sequence_gaps", "sequence_number", 3),
    ),
    Fault(
        "eligible_count_off",
        "participation_draws",
        (row(eligible_count="6"), row(draw_id="drw-9002", sequence_number="2")),
        warned("eligible_count_off", "eligible_count"),
    ),
    Fault(
        "newcomer_never_added",
        "participation_draws",
        _one_after_another(("2025-10-07", "2025-10-08"), 7),
        warned_of_file("newcomer_never_added", "pupil_id"),
        before={"memberships": (row(begin_on="2025-10-06"),)},
    ),
    Fault(
        "all_answered_for_weeks",
        "participation_draws",
        _one_after_another(("2025-10-01", "2025-10-08", "2025-10-15"), 14),
        warned_of_file("all_answered_for_weeks", "outcome"),
    ),
)
