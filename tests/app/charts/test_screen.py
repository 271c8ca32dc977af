"""Charts on the screen stand where Vega-Lite puts them, fit any width, and say what they show.

The reference is Vega-Lite's own scene of the same chart, from the library that draws it on paper.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pandas as pd
import pytest

from app.charts.bars import bars
from app.charts.pairs import Pair, pairs
from app.charts.palette import SCREEN
from app.charts.range_bar import range_bar
from app.charts.screen import as_html
from app.charts.sides import sides
from app.charts.stave import stave
from app.charts.teaching import teaching
from app.charts.terms import term_notes
from app.text.readings import Reading
from tests.app.charts.drawn import by_vega, on_the_page, read
from tests.app.charts.test_stave import CALENDAR, LOOK, SEEN, WEEKS

HIDDEN = Reading(is_withheld=True, withheld_reason="few_classes")
THIN = Reading(0.4, 0.2, 0.7, 4, 10, 2, 10, "thin", "none")
TERM = replace(LOOK, palette=SCREEN)
YEAR = replace(TERM, headings=[(date(2026, 4, 13), "Spring term")], height=92)
YEAR_OF_WEEKS = pd.date_range("2025-09-01", periods=40, freq="7D")
CHARTS = {
    "stave": stave(WEEKS, TERM, date(2026, 6, 19)),
    "headed stave": stave(WEEKS, YEAR, date(2026, 6, 19)),
    "empty stave": stave(WEEKS.iloc[0:0], TERM, date(2026, 6, 19)),
    "range": range_bar(SEEN, 0.8),
    "thin range": range_bar(THIN),
    "no range": range_bar(Reading(), None),
    "pairs": pairs([Pair("Grade 1", SEEN, 0.7, True), Pair("Grade 2", THIN, 0.6, False)], 0.8),
    "bars": bars([("All pupils", SEEN), ("Groups", Reading()), ("Individual", THIN)]),
    "sides": sides([("steps", SEEN), ("pupils", THIN), ("reach", Reading())], "steps"),
    "teaching": teaching(CALENDAR, LOOK.breaks, LOOK.term_ends),
    "terms": term_notes([("Autumn", SEEN), ("Winter", THIN), ("Spring", HIDDEN)], 0.8),
    "begun terms": term_notes([("Autumn", Reading()), ("Winter", SEEN)], None, has_sign=False),
}
charts = pytest.mark.parametrize("spec", CHARTS.values(), ids=list(CHARTS))


@charts
def test_everything_stands_where_vega_lite_puts_it(spec: dict[str, Any]) -> None:
    width, theirs = by_vega(spec)
    ours = on_the_page(as_html(spec, "A chart"), width)
    assert [one.text for one in ours] == [one.text for one in theirs]
    for one, other in zip(ours, theirs, strict=True):
        # Lines are drawn in whole pixels here, and Vega moves axes by half of one.
        assert one.x == pytest.approx(other.x, abs=0.8), other
        assert one.y == pytest.approx(other.y, abs=0.8), other
        assert one.wide == pytest.approx(other.wide, abs=0.8), other
        if not one.text and one.high:
            assert one.high == pytest.approx(other.high, abs=1.3), other


@charts
def test_a_chart_needs_no_script_and_no_width(spec: dict[str, Any]) -> None:
    html = as_html(spec, "A chart")
    assert "<script" not in html
    assert "nan" not in html.lower()
    sizes = [style["width"] for _, style, _ in read(html).found if "width" in style]
    assert all("%" in size or float(size.removesuffix("px")) <= 160 for size in sizes)


def test_a_chart_is_one_picture_with_its_words() -> None:
    html = as_html(CHARTS["range"], "Lessons given: 79 % <of> those planned")
    assert read(html).names == ["Lessons given: 79 % <of> those planned"]
    assert html.count('role="') == 1


def test_names_and_notes_are_never_read_as_markup() -> None:
    html = as_html(sides([("<b>steps", SEEN)], None), 'say "so"')
    assert "<b>" not in html
    assert "&lt;b&gt;steps" in html
    assert read(html).names == ['say "so"']


def test_a_mark_says_what_it_is_when_it_is_pointed_at() -> None:
    html = as_html(CHARTS["stave"], "A chart")
    assert 'title="Week of 20 Apr: 80 % (70 to 90 %), 4 visits"' in html.replace("\xa0", " ")


def test_every_second_date_gives_way_in_a_narrow_chart() -> None:
    long = pd.DataFrame([{**WEEKS.iloc[0], "week_first_on": day} for day in YEAR_OF_WEEKS])
    elements = read(as_html(stave(long, replace(LOOK, changes=[])), "A chart"))
    dates = [kind for (_, _, words), kind in elements.labelled() if words[0][:1].isdigit()]
    assert dates[3:] == ["", "ro-second", "ro-third", "ro-second", "", "ro-second"]


@charts
def test_colours_are_those_of_the_theme(spec: dict[str, Any]) -> None:
    assert "#" not in as_html(spec, "A chart")


def test_two_labels_stay_in_every_width() -> None:
    assert "ro-second" not in read(as_html(CHARTS["pairs"], "A chart")).kinds
