"""A stave of terms draws what is known, what is thin, what is hidden and what nobody looked at."""

from __future__ import annotations

from typing import Any

from app.charts.palette import PAPER
from app.charts.terms import Terms, term_notes, term_words
from app.text.readings import Reading

FULL = Reading(value=0.816, low=0.75, high=0.871, session_count=27, sufficiency="solid")
THIN = Reading(value=0.5, low=0.2, high=0.8, session_count=2, sufficiency="thin")
NONE = Reading()
HIDDEN = Reading(value=0.4321, is_withheld=True, withheld_reason="few_classes", sufficiency="solid")
TERMS: Terms = [("Autumn", FULL), ("Winter", THIN), ("Spring", NONE), ("Summer", HIDDEN)]


def layers(kind: str, terms: Terms = TERMS, **more: bool) -> list[dict[str, Any]]:
    spec = term_notes(terms, 0.8, PAPER, **more)
    return [one for one in spec["layer"] if one["mark"]["type"] == kind]


def values(layer: dict[str, Any], name: str) -> list[Any]:
    return [row[name] for row in layer["data"]["values"]]


def test_enough_is_filled_and_too_little_is_hollow() -> None:
    points = [one for one in layers("point") if one["encoding"]["y"]["field"] == "value"]
    looks = {one["mark"]["fill"]: (values(one, "at"), values(one, "value")) for one in points}
    assert looks == {PAPER.data: ([0], [82]), PAPER.card: ([1], [50])}


def test_what_is_withheld_is_two_dots_and_a_word_and_never_a_number() -> None:
    dots = [one for one in layers("point") if one["encoding"]["y"]["field"] == "y"]
    assert [values(one, "is_hidden") for one in dots] == [[True], [True]]
    told = [number for one in layers("text") for number in values(one, "number")]
    assert told == ["82\u00a0%", "50\u00a0%", "–", ["with-", "held"]]
    assert "43" not in str(term_notes(TERMS, 0.8))


def test_nobody_looked_is_a_bar_in_the_middle_and_never_zero() -> None:
    bars = [one for one in layers("rule") if one["mark"].get("strokeWidth") == 3.5]
    assert [(values(one, "y"), values(one, "is_hidden")) for one in bars] == [([50], [False])]
    assert 2.16 in values(bars[0], "to")


def test_our_line_is_dashed_and_terms_are_parted_by_double_bars() -> None:
    dashed = [one for one in layers("rule") if "strokeDash" in one["mark"]]
    assert [values(one, "y") for one in dashed] == [[80]]
    bars = [one for one in layers("rule") if one["encoding"].get("y2") == {"field": "high"}]
    parted = [one for one in bars if values(one, "high")[:1] == [100]]
    assert [len(values(one, "at")) for one in parted] == [3, 3]
    assert [one for one in layers("rule", [("Autumn", FULL)]) if one in parted] == []


def test_without_room_numbers_stand_alone() -> None:
    told = [number for one in layers("text", has_sign=False) for number in values(one, "number")]
    assert told == ["82", "50", "–", ["with-", "held"]]


def test_the_words_say_the_same_as_the_picture() -> None:
    said = term_words("Fair turns", TERMS, 0.8).replace("\u00a0", " ")
    assert said == (
        "Fair turns: Autumn 82 % (75 to 87 %), Winter 50 % (20 to 80 %), too few looks to say, "
        "Spring nobody looked, Summer withheld: too few classes to show; our line is 80 %."
    )
    assert term_words("Fair turns", []) == "Fair turns: no term has begun."
