"""The address of a number: made from its row, read back from the address, never from junk."""

from __future__ import annotations

from collections.abc import Hashable
from urllib.parse import parse_qsl

import pandas as pd
import pytest

from app.files import About, csv_file
from app.look.html import inline
from app.text.places import Place, linked, of_term, place_of_address, place_of_row, unlinked

Row = dict[Hashable, object]
WEEK: Row = {"week_first_on": pd.Timestamp("2026-05-11")}
SCHOOL: Row = {
    "school_id": "quillbrook",
    "measure_name": "dose",
    "routine_id": "*",
    "term_id": "spring",
}


def params_of(place: Place) -> dict[str, str]:
    return dict(parse_qsl(place.address.partition("?")[2]))


@pytest.mark.parametrize(
    ("row", "level", "key", "window"),
    [
        ({**SCHOOL, "window_code": "term"}, "school", "", "term"),
        ({**SCHOOL, "window_code": "last_20", "grade_code": "02"}, "grade", "02", "last_20"),
        ({**SCHOOL, "tier_code": "3"}, "tier", "3", "term"),
        ({**SCHOOL, **WEEK, "class_id": "room-3"}, "class", "room-3", "week"),
        ({**SCHOOL, "class_id": "Rm 3 & 4/ö", "grade_code": "02"}, "class", "Rm 3 & 4/ö", "term"),
    ],
)
def test_a_row_has_an_address_that_leads_back_to_it(
    row: Row, level: str, key: str, window: str
) -> None:
    place = place_of_row(row)
    assert place is not None
    assert (place.level, place.key, place.window) == (level, key, window)
    assert place_of_address(params_of(place)) == place


def test_a_row_that_measures_nothing_has_no_address() -> None:
    assert place_of_row({"measure_name": None, "term_id": "spring"}) is None
    assert place_of_row({"measure_name": "*", "term_id": "spring"}) is None
    assert place_of_row({"measure_name": "dose", "term_id": float("nan")}) is None


@pytest.mark.parametrize(
    "junk",
    [
        {},
        {"measure": "dose"},
        {"measure": "dose", "level": "planet"},
        {"measure": "dose", "level": "class"},
        {"measure": "dose", "level": "school", "window": "forever"},
        {"measure": "dose", "level": "school", "window": "week", "week": "not a day"},
        {"measure": "dose", "level": "school", "week": "2026-05-11"},
        {"measure": "", "level": "school"},
        {"measure": "dose" * 90, "level": "school"},
    ],
)
def test_junk_names_no_number(junk: dict[str, str]) -> None:
    assert place_of_address(junk) is None


def test_the_term_before_has_an_address_of_its_own() -> None:
    place = place_of_row({**SCHOOL, **WEEK})
    earlier = of_term(place, "winter")
    assert earlier is not None
    assert (earlier.term, earlier.window, earlier.week) == ("winter", "term", "")
    assert of_term(place, float("nan")) == place


def test_a_link_is_one_link_and_everything_else_is_escaped() -> None:
    place = place_of_row({**SCHOOL, "class_id": 'r"><script>'})
    text = inline(f"**{linked('82 %', place)}** of <b>12</b>")
    assert text.count("<a ") == 1
    assert "<script>" not in text
    assert text.startswith('<b><a class="ro-number" href="number?measure=dose&amp;level=class')
    assert "&lt;b&gt;12&lt;/b&gt;" in text


def test_a_label_from_the_data_cannot_make_a_link_elsewhere() -> None:
    assert "<a" not in inline("[[click|https://elsewhere.example/number?x]]")
    assert "<a" not in inline("[[click|javascript:number?x]]")


def test_a_file_to_take_away_carries_the_text_of_a_link_only() -> None:
    shown = linked("82 %", place_of_row(SCHOOL))
    assert unlinked(f"{shown} and {shown}") == "82 % and 82 %"
    kept = csv_file(pd.DataFrame({"Figure": [shown], "Count": [3]}), About("Figures"))
    assert kept.decode("utf-8").endswith('\r\n"Figure","Count"\r\n"82 %",3\r\n')
