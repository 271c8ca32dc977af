"""The stave draws absence, joins nothing, and says in words what it shows."""

from __future__ import annotations

from datetime import date
from typing import Any

import pandas as pd
import pytest
import vl_convert as vlc

from app.charts.bars import bars
from app.charts.pairs import Pair, pairs, pairs_words
from app.charts.palette import PAPER
from app.charts.range_bar import range_bar, range_words
from app.charts.sides import sides
from app.charts.stave import Stave, stave, stave_words
from app.charts.teaching import teaching
from app.text.readings import Reading

SEEN = Reading(0.79, 0.76, 0.82, 3082, 3902, 214, 3902, "solid", "unclear")


def week(monday: str, value: float | None, sufficiency: str = "usable") -> dict[str, Any]:
    low, high = (None, None) if value is None else (value - 0.1, value + 0.1)
    return {
        "week_first_on": pd.Timestamp(monday), "value": value, "low": low, "high": high,
        "numerator_count": 8, "denominator_count": 10, "session_count": 4,
        "sufficiency": "none" if value is None else sufficiency, "status": "none",
        "is_withheld": False, "band_low": 0.7, "band_high": 0.85,
    }  # fmt: skip


WEEKS = pd.DataFrame(
    [
        week("2026-04-13", 0.62, "thin"),
        week("2026-04-20", 0.8),
        week("2026-04-27", None),
        week("2026-05-04", 0.9),
    ]
)
LOOK = Stave(
    line=0.8,
    breaks=[(date(2026, 5, 4), date(2026, 5, 8))],
    term_ends=[date(2026, 6, 19)],
    changes=[(date(2026, 4, 21), "new lunch time"), (date(2026, 4, 22), "relief teacher")],
    has_dates=True,
    palette=PAPER,
)


def marks_of(spec: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == kind]


def test_enough_is_filled_and_too_few_is_hollow() -> None:
    points = [m for m in marks_of(stave(WEEKS, LOOK), "point") if "shape" not in m["mark"]]
    hollow, filled = points
    assert [row["value"] for row in hollow["data"]["values"]] == [62]
    assert hollow["mark"]["fill"] == PAPER.card
    assert [row["value"] for row in filled["data"]["values"]] == [80, 90]
    assert filled["mark"]["fill"] == PAPER.data


def test_a_week_nobody_looked_is_a_rest_in_the_middle_and_never_zero() -> None:
    spec = stave(WEEKS, LOOK)
    rests = [
        row
        for layer in marks_of(spec, "rule")
        for row in layer["data"]["values"]
        if "nobody looked" in str(row.get("words"))
    ]
    assert [(row["y"], row["to"] - row["from"]) for row in rests] == [(50, pytest.approx(2.2))]


def test_notes_are_not_joined() -> None:
    assert marks_of(stave(WEEKS, LOOK), "line") == []


def test_a_withheld_week_is_a_rest_that_says_so() -> None:
    held = pd.DataFrame([{**week("2026-04-13", 0.62), "is_withheld": True}])
    text = str(stave(held, LOOK))
    assert "withheld, a small group" in text
    assert "'value': 62" not in text


def test_two_changes_close_together_keep_both_marks_and_one_label() -> None:
    spec = stave(WEEKS, LOOK, date(2026, 6, 19))
    triangles = [m for m in marks_of(spec, "point") if m["mark"].get("shape")]
    labels = [m for m in marks_of(spec, "text") if m["mark"]["fill"] == PAPER.change]
    assert len(triangles[0]["data"]["values"]) == 2
    assert [row["label"] for m in labels for row in m["data"]["values"]] == ["relief teacher"]


def test_the_picture_in_words() -> None:
    assert stave_words("Arrival", WEEKS, 0.8) == (
        "Arrival: 3 of 4 weeks with visits, 2 with enough to say: between 80 and 90 %, most "
        "lately 90 % (4 May), 2 of those at or over our line of 80 %."
    )
    assert "nobody has looked" in stave_words("Arrival", WEEKS.iloc[2:3])


CALENDAR = pd.DataFrame(
    {
        "routine_name": ["Arrival", "Arrival", "Fair turns"],
        "week_first_on": pd.to_datetime(["2026-04-13", "2026-04-20", "2026-04-13"]),
        "lesson_count": [3, 0, 2],
        "due_count": [4.0, 2.0, 0.0],
    }
)


@pytest.mark.parametrize(
    "spec",
    [
        stave(WEEKS, LOOK, date(2026, 6, 19)),
        stave(WEEKS.iloc[0:0], LOOK, date(2026, 6, 19)),
        range_bar(SEEN, 0.8, PAPER),
        range_bar(Reading(), None, PAPER),
        pairs([Pair("Grade 1", SEEN, 0.7, True), Pair("Grade 2", Reading())], 0.8, PAPER),
        bars([("All pupils", SEEN), ("Groups", Reading())], PAPER),
        sides([("steps", SEEN), ("pupils", Reading())], "steps", PAPER),
        teaching(CALENDAR, LOOK.breaks, LOOK.term_ends, PAPER),
    ],
    ids=["stave", "empty stave", "range", "no range", "pairs", "bars", "sides", "teaching"],
)
def test_every_chart_draws_without_a_warning(spec: dict[str, Any]) -> None:
    svg = vlc.vegalite_to_svg({**spec, "width": 600})
    assert svg.startswith("<svg")
    assert "NaN" not in svg


def test_axis_labels_of_the_stave_are_drawn() -> None:
    svg = vlc.vegalite_to_svg({**stave(WEEKS, LOOK, date(2026, 6, 19)), "width": 600})
    for label in (">0<", ">50<", ">100 %<", ">13 Apr<"):
        assert label in svg


def test_pairs_keep_the_order_they_were_given() -> None:
    low = Reading(0.2, 0.1, 0.3, 2, 10, 5, 10, "usable", "unclear")
    spec = pairs([Pair("Grade 1", low), Pair("Grade 2", SEEN)])
    assert spec["layer"][0]["encoding"]["y"]["scale"]["domain"] == ["Grade 1", "Grade 2"]
    said = pairs_words("Grades", [Pair("Grade 1", SEEN, 0.75, True)]).replace("\u00a0", " ")
    assert said == "Grades: Grade 1 79 % (4 points up on last term)."


def test_the_range_in_words() -> None:
    said = range_words("In place", SEEN, 0.8).replace("\u00a0", " ")
    assert said == "In place: 79 %, range 76 to 82 %; our line is 80 %."
    assert "nothing to show" in range_words("In place", Reading())
