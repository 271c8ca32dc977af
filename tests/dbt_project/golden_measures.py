"""Golden cases of single measures: waits after a break, newcomers, families, praise, and others.

The working stands in `test_golden_measures.py`.
"""

from __future__ import annotations

from tests.dbt_project.golden import Feeds, Row, _class, _lesson, _pupil, _school, day
from tests.dbt_project.golden_visits import _rows, _visit

Kind = tuple[str, str, float | None]


def after_a_break() -> Feeds:
    """A week of school, a week off, two weeks of school; three children join on the way."""
    term = {"school_id": "pause", "kind": "term"}
    family = {"class_id": "p1", "routine_id": "listen"}
    return {
        **_school("pause"),
        "terms": [
            {**term, "term_id": "pause-t1", "title": "A", "first_on": day(1), "last_on": day(5)},
            {**term, "term_id": "pause-t2", "title": "B", "first_on": day(15), "last_on": day(26)},
        ],
        "classes": [_class("pause", "p1", "01"), _class("pause", "p2", "01")],
        "memberships": [
            *(_pupil("p1", f"p1-{number}") for number in (1, 2, 3)),
            _pupil("p1", "p1-soon", begin=3),
            _pupil("p1", "p1-late", begin=16),
            _pupil("p1", "p1-last", begin=25),
            _pupil("p2", "p2-1"),
            _pupil("p2", "p2-soon", begin=4),
        ],
        "routine_lessons": [
            _lesson("p-a", "p1", "listen", 1),
            _lesson("p-b", "p1", "walk", 2),
            _lesson("p-c", "p1", "listen", 4),
            _lesson("p-d", "p1", "listen", 17),
            _lesson("p-e", "p2", "listen", 2),
            _lesson("p-f", "p2", "listen", 15),
        ],
        "family_practice": [
            {**family, "week_first_on": day(15), "families_asked": 4, "families_reported": 3},
            {**family, "week_first_on": day(22), "families_asked": 5, "families_reported": 1,
             "received_at": f"{day(29)} 06:00:00+00:00"},
        ],
    }  # fmt: skip


def _events(**counts: int) -> list[Kind]:
    return [("event", code, None) for code, count in counts.items() for _ in range(count)]


def statements() -> Feeds:
    """One visit with 24 praise statements and 6 corrections, one with praise only; things seen."""
    things = {"y-v1": (3, 1), "y-v2": (1, 0)}
    said = {
        "y-v1": _events(praise_specific=14, praise_general=10, correction_calm=5,
                        correction_harsh=1),
        "y-v2": _events(praise_general=8),
    }  # fmt: skip
    received = {"y-v1": 4, "y-v2": 22}
    return {
        **_school("say"),
        "classes": [_class("say", "y1", "01"), _class("say", "y2", "01")],
        "observation_sessions": [
            _visit("y-v0", "y1", 2, received_at=f"{day(3)} 06:00:00+00:00"),
            _visit("y-v1", "y1", 3, received_at=f"{day(received['y-v1'])} 06:00:00+00:00"),
            _visit("y-v2", "y2", 3, received_at=f"{day(received['y-v2'])} 06:00:00+00:00"),
        ],
        "observation_rows": [
            *_rows("y-v0", [("voice", "observed", 1.0)]),
            *(row for key in said for row in _rows(key, [*said[key], *_things(*things[key])])),
        ],
    }


def _things(present: int, absent: int) -> list[Kind]:
    seen: list[Kind] = [("product", "present", None)] * present
    return [*seen, *[("product", "absent", None)] * absent]


# Steps done of 4, ratings, looks as expected of 10: five visits with all three sides.
SIDES = ((4, 3.0, 9), (3, 2.0, 7), (4, 2.0, 8), (2, 1.0, 5), (3, 3.0, 8))


def sides() -> Feeds:
    """A class with five visits and no plan: three sides of fidelity are known."""
    return {
        **_school("side"),
        "classes": [_class("side", "d1", "01")],
        "observation_sessions": [_visit(f"d-v{on}", "d1", on) for on in range(1, 6)],
        "observation_rows": [
            row for on, seen in enumerate(SIDES, start=1) for row in _side_rows(f"d-v{on}", *seen)
        ],
    }


def _side_rows(visit_id: str, done: int, rating: float, expected: int) -> list[Row]:
    kinds: list[Kind] = [
        *[("step", "done", None)] * done,
        *[("step", "not_done", None)] * (4 - done),
        ("rating", "overall", rating),
        *[("moment", "expected", None)] * expected,
        *[("moment", "not_expected", None)] * (10 - expected),
    ]
    return _rows(visit_id, kinds)
