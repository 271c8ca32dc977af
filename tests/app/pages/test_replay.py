"""A body is drawn once for a reader, a build and an address; shown again it is the same page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from app.files import SHELF
from app.pages.parts import headlines
from tests.app.invented import rows
from tests.app.pages.test_every_page import (
    EVERYBODY,
    OWN,
    READERS,
    a_running_server,
    at,
    opened,
    sound,
)
from tests.app.snapshot import write_snapshot

__all__ = ["a_running_server"]


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The reader of each time that the three questions were drawn and not shown again."""
    st.cache_resource.clear()
    readers: list[str] = []
    draw: Callable[..., None] = headlines.three_questions

    def noted(visit: object, *more: object) -> None:
        readers.append(visit.reader.key)  # type: ignore[attr-defined]
        draw(visit, *more)

    monkeypatch.setattr(headlines, "three_questions", noted)
    return readers


def seen(page: AppTest) -> list[str]:
    """Everything on a page, in order: what each element is, and what it holds."""
    # The brief is not a part of the body; its button is made for each run.
    return [f"{one.type} {one.proto}" for one in page.main if one.type != "download_button"]


def test_a_page_that_was_seen_before_is_the_same_and_not_drawn_again(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, drawn: list[str]
) -> None:
    pages = [seen(opened(monkeypatch, real_school, "principal")) for _ in range(3)]
    assert drawn == ["principal"]
    assert pages[0] == pages[1] == pages[2]
    assert len(pages[0]) > 10


def test_each_reader_and_each_choice_is_drawn_for_itself(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, drawn: list[str]
) -> None:
    sound(at(opened(monkeypatch, real_school, "support"), "schoolwide"))
    page = opened(monkeypatch, real_school, "principal")
    page.selectbox(key="term").set_value(page.selectbox(key="term").options[0]).run()
    assert drawn == ["support", "principal", "principal"]


def test_a_new_build_is_drawn_anew(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, drawn: list[str]
) -> None:
    for name in ("one", "other"):
        write_snapshot(tmp_path / name, rows(), is_demo=False)
        opened(monkeypatch, tmp_path / name, "principal")
    assert drawn == ["principal", "principal"]


def test_what_is_shown_again_still_offers_its_files(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, drawn: list[str]
) -> None:
    files = []
    monkeypatch.setattr(SHELF, "put", lambda given: files.append([one.token for one in given]))
    opened(monkeypatch, real_school, "principal")
    first = {token for tokens in files for token in tokens}
    files.clear()
    opened(monkeypatch, real_school, "principal")
    again = {token for tokens in files for token in tokens}
    assert drawn == ["principal"]
    assert first
    assert again == first


@pytest.mark.parametrize(("role", "path"), [*OWN, *EVERYBODY])
def test_every_page_shown_again_is_the_page_it_was(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str, path: str
) -> None:
    st.cache_resource.clear()
    first = at(opened(monkeypatch, real_school, READERS[role]), path)
    again = at(opened(monkeypatch, real_school, READERS[role]), path)
    assert sound(again) == sound(first)
