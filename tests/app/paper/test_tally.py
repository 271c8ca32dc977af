"""A tally sheet asks for the columns of its feed, no more and no fewer, under the feed's words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.paper.tally import LEFT
from app.text.room_paper import MADE_KEYS
from ingest.contracts import load_contracts
from tests.app.invented_rooms import NAMES
from tests.app.paper.reading import Printed, plain
from tests.app.paper.rooms import as_teacher, printed


@pytest.fixture(scope="module")
def sheets(school: Path) -> Printed:
    return printed("tally", as_teacher(school))


PLACES = {
    "participation_draws": 0,
    "routine_lessons": 1,
    "observation_sessions": 2,
    "observation_rows": 2,
}


def words_of(sheets: Printed, feed: str) -> str:
    """The words of a feed's sheet; names with underscores are read as one."""
    text = sheets.file.pages[PLACES[feed]].extract_text().replace("\u200b", "")
    return re.sub(r"\s*_\s*", "_", plain(text))


@pytest.mark.parametrize("feed", sorted(LEFT))
def test_every_column_is_on_the_sheet_or_left_to_the_office_and_the_other_way_round(
    sheets: Printed, feed: str
) -> None:
    words = words_of(sheets, feed)
    for field in load_contracts()[feed].fields:
        if not field.is_optional:
            assert field.name in words, field.name
    every = {one.name for contract in load_contracts().values() for one in contract.fields}
    own = {one.name for name in PLACES if PLACES[name] == PLACES[feed]
           for one in load_contracts()[name].fields}  # fmt: skip
    on_it = {word for word in re.findall(r"[a-z]+(?:_[a-z]+)+", words)} & every
    codes = {code for name in PLACES if PLACES[name] == PLACES[feed]
             for one in load_contracts()[name].fields for code in one.enum}  # fmt: skip
    assert on_it - codes <= own


@pytest.mark.parametrize("feed", sorted(LEFT))
def test_every_title_and_every_code_stands_on_it(sheets: Printed, feed: str) -> None:
    text = words_of(sheets, feed)
    for field in load_contracts()[feed].fields:
        if field.is_optional or field.name in LEFT[feed]:
            continue
        assert all(word in text for word in field.title.split()), field.title
        assert [code for code in field.enum if code not in text] == [], field.name


def test_keys_are_made_of_columns_that_the_sheet_has() -> None:
    for feed, pattern in MADE_KEYS.items():
        named = set(re.findall(r"{(\w+)}", pattern)) - {"example"}
        assert named
        assert named <= set(load_contracts()[feed].field_names)
        assert "class_id" in named


def test_what_is_needed_is_marked(sheets: Printed) -> None:
    text = plain(sheets.file.pages[0].extract_text())
    assert "What happened *" in text
    assert "Round *" not in text


def test_the_children_s_keys_stand_on_the_last_page_only(sheets: Printed) -> None:
    first, last = sheets.file.pages[:-1], sheets.file.pages[-1]
    assert all(f"room-3-{number}" in last.extract_text() for number in range(len(NAMES)))
    assert "settle" in last.extract_text()
    for page in first:
        assert [name for name in NAMES if name in page.extract_text().split()] == []
        assert not re.search(r"room-3-\d+\b(?!-)", page.extract_text())


def test_every_table_has_header_cells(sheets: Printed) -> None:
    assert sheets.tags.count("Table") == sheets.tags.count("THead") >= 5
    assert len(sheets.file.pages) == 4
