"""Golden case: one visit that two people watched, and two that one watched alone."""

from __future__ import annotations

from tests.dbt_project.golden import Feeds, Row, _class, _school
from tests.dbt_project.golden_visits import _visit

# Twenty looks, one every 15 seconds: what the first wrote, then what the second wrote.
# e as agreed, a an accepted alternative, n not as agreed, h could not be seen.
FIRST = "eeeeeeeeeeaneenneehe"
SECOND = "eeeeeeeeenaneeeneeee"
CODES = {"e": "expected", "a": "accommodated", "n": "not_expected", "h": "not_visible"}


def _looks(visit_id: str, letters: str) -> list[Row]:
    return [
        {
            "observation_id": visit_id,
            "row_number": number,
            "row_type": "moment",
            "code": CODES[letter],
            "at_seconds": 15.0 * number,
            "target_slot": str(number % 7),
        }
        for number, letter in enumerate(letters, start=1)
    ]


def _levels(visit_id: str, levels: str, first: int) -> list[Row]:
    return [
        {
            "observation_id": visit_id,
            "row_number": number,
            "row_type": "voice",
            "code": "observed",
            "value": float(level),
            "at_seconds": 60.0 * number,
        }
        for number, level in enumerate(levels, start=first)
    ]


def pairs() -> Feeds:
    """Class p1: a pair in which the second sees one look otherwise each way, and four voices."""
    together = {"pair_id": "pp", "purpose": "agreement", "expected_voice_level": 2}
    return {
        **_school("pair"),
        "classes": [_class("pair", "p1", "01")],
        "observation_sessions": [
            _visit("p-1", "p1", 3, observer_id="o-ann", **together),
            _visit("p-2", "p1", 3, observer_id="o-ben", **together),
            _visit("p-3", "p1", 8),
            _visit("p-4", "p1", 9),
        ],
        "observation_rows": [
            *_looks("p-1", FIRST),
            *_levels("p-1", "2231", 21),
            *_looks("p-2", SECOND),
            *_levels("p-2", "2121", 21),
            *_looks("p-3", "eeen"),
            *_looks("p-4", "eenn"),
        ],
    }
