"""Faults of visits and of what was seen in them."""

from __future__ import annotations

from .model import (
    Fault,
    Row,
    aside,
    row,
    warned,
    warned_of_file,
)


def _looks(count: int) -> tuple[Row, ...]:
    return tuple(
        row(observation_id="obs-91", row_number=number, row_type="moment", code="expected")
        for number in range(1, count + 1)
    )


OBSERVATIONS = (
    Fault(
        "instruction_over_observed",
        "observation_sessions",
        (row(minutes_instruction="5"),),
        aside("instruction_over_observed", "minutes_instruction"),
    ),
    Fault(
        "pair_does_not_match",
        "observation_sessions",
        (
            row(pair_id="pair-9", purpose="agreement", observer_id="st-010"),
            row(
                observation_id="obs-92",
                pair_id="pair-9",
                purpose="agreement",
                observed_on="2025-10-09",
            ),
        ),
        aside("pair_does_not_match", "pair_id", 2, 3),
    ),
    Fault(
        "pair_of_the_same_observer",
        "observation_sessions",
        (row(pair_id="pair-1", observed_on="2025-10-07", purpose="agreement"),),
        aside("pair_does_not_match", "pair_id"),
    ),
    Fault(
        "observer_in_two_places",
        "observation_sessions",
        (
            row(),
            row(
                observation_id="obs-92",
                class_id="qb-oak",
                started_at_local="11:02",
                pupils_present="4",
            ),
            row(
                observation_id="obs-93",
                class_id="qb-oak",
                started_at_local="11:05",
                pupils_present="4",
            ),
        ),
        aside("observer_in_two_places", "observer_id", 2, 3),
    ),
    Fault(
        "training_visits_kept_out",
        "observation_sessions",
        (row(purpose="training"),),
        warned_of_file("training_visits_kept_out", "purpose"),
    ),
    Fault(
        "rows_without_a_visit",
        "observation_rows",
        (row(observation_id="obs-77", row_number="1"), row()),
        aside("unknown_reference", "observation_id"),
    ),
    Fault(
        "visit_without_rows",
        "observation_rows",
        (row(), row(observation_id="obs-03")),
        warned_of_file("visit_without_rows", "observation_id"),
        before={"observation_sessions": (row(observed_on="2025-10-07"),)},
    ),
    Fault(
        "code_does_not_fit_row_type",
        "observation_rows",
        (row(code="done"), row(row_number="91")),
        aside("code_does_not_fit_row_type", "code"),
    ),
    Fault(
        "value_does_not_fit_row_type",
        "observation_rows",
        (
            row(row_type="voice", code="observed", value="5"),
            row(row_number="91", row_type="latency", code="ready"),
            row(row_number="92", row_type="step", code="done"),
            row(row_number="93", row_type="voice", code="observed", value="4"),
        ),
        aside("value_does_not_fit_row_type", "value", 2, 3, 4),
    ),
    Fault(
        "rating_scale_changed",
        "observation_rows",
        (
            row(row_type="rating", code="overall", value="5"),
            row(row_number="91", row_type="rating", code="shown", value="2.5"),
            row(row_number="92", row_type="rating", code="feedback", value="3"),
        ),
        aside("rating_scale_changed", "value", 2, 3),
    ),
    Fault(
        "time_beyond_visit",
        "observation_rows",
        (row(at_seconds="400"), row(row_number="91", at_seconds="180")),
        aside("time_beyond_visit", "at_seconds"),
    ),
    Fault(
        "step_from_another_version",
        "observation_rows",
        (
            row(
                observation_id="obs-91",
                row_number="1",
                row_type="step",
                code="done",
                step_number="4",
            ),
            row(
                observation_id="obs-91",
                row_number="2",
                row_type="step",
                code="done",
                step_number="3",
            ),
        ),
        aside("step_from_another_version", "step_number"),
        before={"observation_sessions": (row(observed_on="2025-09-24", routine_id="fair-turns"),)},
    ),
    Fault(
        "sample_count_off",
        "observation_rows",
        _looks(5),
        warned("sample_count_off", "row_number"),
        before={"observation_sessions": (row(interval_seconds="30"),)},
    ),
    Fault(
        "all_rows_identical",
        "observation_rows",
        _looks(20),
        warned("all_rows_identical", "code"),
        before={"observation_sessions": (row(minutes_observed="10", interval_seconds="30"),)},
    ),
)
