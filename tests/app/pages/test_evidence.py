"""Every picture has a sentence, a table and files; what a screen rounds, a file holds exactly."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from app.files import Offered
from app.look import cards, evidence, view
from app.text.exact import on_screen
from tests.app.pages.test_every_page import (
    OWN,
    READERS,
    a_running_server,
    as_on_a_server,
    at,
    opened,
    sound,
)
from tests.app.snapshot import BUILD_ID

__all__ = ["a_running_server"]
NUMBERS = (
    "measure=responsiveness&level=school&school=quillbrook&routine=voice&term=spring&window=term",
    "measure=rows_received&level=school&school=quillbrook",
)
_PERCENT = re.compile(r"\d\u00a0%")


@dataclass
class Seen:
    """What a run put on its pages: pictures and words by card, tables, and files on offer."""

    cards: list[str] = field(default_factory=list)
    pictures: dict[str, list[str]] = field(default_factory=dict)
    tables: dict[str, list[pd.DataFrame]] = field(default_factory=dict)
    files: dict[str, Callable[[], bytes]] = field(default_factory=dict)
    made: int = 0


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> Seen:
    """What the pages of one test show."""
    return noting(monkeypatch)


@pytest.fixture(scope="module")
def visited(real_school: Path) -> dict[tuple[str, str], Seen]:
    """Every page of every reader, opened once; what each showed."""
    found = {}
    for role, path in OWN:
        with pytest.MonkeyPatch.context() as patch:
            as_on_a_server(patch)
            found[role, path] = noting(patch)
            page_of(patch, real_school, role, path)
    return found


def noting(monkeypatch: pytest.MonkeyPatch) -> Seen:
    """Notes what is shown, and shows it all the same."""
    note = Seen()
    card, chart, table, offer = cards.card, evidence.as_html, evidence.table, view.offer
    # What was drawn before is shown again without being drawn: here everything is drawn anew.
    st.cache_resource.clear()

    @contextmanager
    def noted_card(key: str, *, even: bool = False) -> Iterator[None]:
        note.cards.append(key)
        with card(key, even=even):
            yield

    def noted_chart(spec: dict[str, Any], words: str) -> str:
        note.pictures.setdefault(note.cards[-1], []).append(words)
        return chart(spec, words)

    def noted_table(frame: pd.DataFrame, words: str, **more: Any) -> None:
        note.tables.setdefault(note.cards[-1], []).append(frame)
        table(frame, words, **more)

    def noted_offer(name: str, mime: str, make: Callable[[], bytes]) -> Offered:
        def made() -> bytes:
            note.made += 1
            return make()

        note.files[name] = made
        return offer(name, mime, made)

    monkeypatch.setattr(cards, "card", noted_card)
    monkeypatch.setattr(evidence, "as_html", noted_chart)
    monkeypatch.setattr(evidence, "table", noted_table)
    monkeypatch.setattr(view, "offer", noted_offer)
    return note


def page_of(monkeypatch: pytest.MonkeyPatch, school: Path, role: str, path: str) -> AppTest:
    page = at(opened(monkeypatch, school, READERS[role]), path)
    sound(page)
    return page


@pytest.mark.parametrize("page", OWN, ids="-".join)
def test_every_picture_of_a_page_has_its_table_and_two_files(
    visited: dict[tuple[str, str], Seen], page: tuple[str, str]
) -> None:
    seen = visited[page]
    assert [card for card in seen.pictures if not seen.tables.get(card)] == []
    shown = any(not frame.empty for frames in seen.tables.values() for frame in frames)
    endings = [name.rsplit(".", 1)[1] for name in seen.files]
    assert endings.count("csv") == endings.count("xlsx")
    assert bool(endings) is shown


def test_most_pages_have_a_table(visited: dict[tuple[str, str], Seen]) -> None:
    assert sum(bool(seen.files) for seen in visited.values()) >= 16
    assert sum(len(seen.pictures) for seen in visited.values()) >= 15


def test_no_file_is_made_before_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, seen: Seen
) -> None:
    page_of(monkeypatch, real_school, "principal", "schoolwide")
    assert seen.files
    assert seen.made == 0


@pytest.mark.parametrize("page", OWN, ids="-".join)
def test_every_file_of_a_page_opens_and_says_where_it_is_from(
    visited: dict[tuple[str, str], Seen], page: tuple[str, str]
) -> None:
    for name, make in visited[page].files.items():
        data = make()
        if name.endswith(".csv"):
            text = data.decode("utf-8-sig")
            assert len(pd.read_csv(io.BytesIO(data), comment="#")) > 0, name
        else:
            sheet = openpyxl.load_workbook(io.BytesIO(data))["Table"]
            text = "\n".join(str(cell.value) for row in sheet.iter_rows() for cell in row)
        for part in ("never of a child", BUILD_ID, "# As of", "# Term", "# What the numbers mean"):
            assert part in text, name
        assert "[[" not in text
        assert "2026-05-15" in name


@pytest.mark.parametrize("page", OWN, ids="-".join)
def test_what_a_screen_says_in_percent_a_file_holds_as_a_share(
    visited: dict[tuple[str, str], Seen], page: tuple[str, str]
) -> None:
    for frame in (frame for frames in visited[page].tables.values() for frame in frames):
        said = on_screen(frame)
        exact = [name for name in frame.columns if name not in said.columns]
        for name in said.columns:
            told = any(isinstance(cell, str) and _PERCENT.search(cell) for cell in said[name])
            assert not told or any(one.endswith("0 to 1") for one in exact), name


def test_the_file_of_a_chosen_view_tells_the_choice_and_leads_back_to_it(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, seen: Seen
) -> None:
    page = page_of(monkeypatch, real_school, "principal", "routines")
    seen.files.clear()
    page.selectbox(key="routine").set_value("line").run()
    text = next(make for name, make in seen.files.items() if name.endswith(".csv"))()
    assert "Routine: Lining up" in text.decode("utf-8-sig")
    assert "routine=Lining+up" in text.decode("utf-8-sig")


@pytest.mark.parametrize("place", NUMBERS)
def test_the_page_of_a_number_offers_files_too(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, seen: Seen, place: str
) -> None:
    page = opened(monkeypatch, real_school, "principal")
    for pair in place.split("&"):
        name, _, value = pair.partition("=")
        page.query_params[name] = value
    sound(at(page, "number"))
    assert any(name.endswith(".csv") for name in seen.files)
