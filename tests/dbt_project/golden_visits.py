"""Golden case: visits. A pair, a training visit, a substitute, and unlike numbers of visits."""

from __future__ import annotations

from collections.abc import Sequence

from tests.dbt_project.golden import Feeds, Row, _class, _school, day


def _visit(visit_id: str, class_id: str, on: int, **rest: object) -> Row:
    return {
        "observation_id": visit_id,
        "class_id": class_id,
        "observer_id": f"o-{visit_id}",
        "observed_on": day(on),
        "minutes_observed": 15,
        "minutes_instruction": 10,
        "routine_id": "listen",
        "taught_by_role": "teacher",
        "purpose": "routine",
        **rest,
    }


def _rows(visit_id: str, kinds: Sequence[tuple[str, str, float | None]]) -> list[Row]:
    return [
        {
            "observation_id": visit_id,
            "row_number": number,
            "row_type": row_type,
            "code": code,
            "value": value,
            "step_number": number if row_type == "step" else None,
        }
        for number, (row_type, code, value) in enumerate(kinds, start=1)
    ]


def _steps(visit_id: str, done: int, not_done: int, not_seen: int = 0) -> list[Row]:
    codes = ["done"] * done + ["not_done"] * not_done + ["not_seen"] * not_seen
    return _rows(visit_id, [("step", code, None) for code in codes])


def visits() -> Feeds:
    """Class e1: a pair and a training visit. Class e2: three visits and a substitute's day."""
    looks = ["expected"] * 3 + ["accommodated", "not_expected", "not_visible"]
    mixed = (
        [("moment", code, None) for code in looks]
        + [("voice", "observed", level) for level in (0.0, 1.0, 2.0)]
        + [("event", "opportunity_individual", None)] * 30
        + [("latency", "ready", 20.0), ("latency", "ready", 40.0), ("latency", "censored", 300.0)]
    )
    return {
        **_school("eye"),
        "classes": [_class("eye", "e1", "01"), _class("eye", "e2", "01")],
        "observation_sessions": [
            _visit("v1", "e1", 3, pair_id="pair", purpose="agreement"),
            _visit("v2", "e1", 3, pair_id="pair", purpose="agreement"),
            _visit("v3", "e1", 4, purpose="training"),
            _visit("v4", "e2", 3),
            _visit("v5", "e2", 4),
            _visit("v6", "e2", 5),
            _visit("v7", "e2", 8, taught_by_role="substitute"),
            _visit("v8", "e2", 9, routine_id="walk", expected_voice_level=1),
        ],
        "observation_rows": [
            *_steps("v1", 2, 0),
            *_steps("v2", 1, 1),
            *_steps("v3", 0, 2),
            *_steps("v4", 1, 1),
            *_steps("v5", 1, 1, not_seen=2),
            *_steps("v6", 1, 1),
            *_steps("v7", 0, 2),
            *_rows("v8", mixed),
        ],
    }
