"""Every page of every reader runs: full, empty, refused, without a build and with a broken one."""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from app.navigation import COMMON, PAGES
from tests.app.charts.drawn import read

MAIN = Path(__file__).resolve().parents[3] / "app" / "main.py"
READERS = {
    "principal": "principal",
    "support": "support",
    "steward": "steward",
    "teacher": "teacher:room-3",
}
OWN = [(role, page.path) for role in READERS for page in PAGES if role in page.roles]
EVERYBODY = [(role, page.path) for role in READERS for page in COMMON]
OTHERS = [(role, page.path) for role in READERS for page in PAGES if role not in page.roles]


@pytest.fixture(autouse=True)
def a_running_server(monkeypatch: pytest.MonkeyPatch) -> None:
    as_on_a_server(monkeypatch)


def as_on_a_server(monkeypatch: pytest.MonkeyPatch) -> None:
    """AppTest forgets between runs that the app names its pages itself; a server does not."""
    runner = "streamlit.runtime.scriptrunner.script_runner._mpa_v1"
    monkeypatch.setattr(runner, lambda main: runpy.run_path(main, run_name="__main__"))
    monkeypatch.delenv("ROUNDELAY_WORKSPACE", raising=False)
    monkeypatch.delenv("ROUNDELAY_READER", raising=False)


def opened(monkeypatch: pytest.MonkeyPatch, workspace: Path, reader: str) -> AppTest:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(workspace))
    monkeypatch.setenv("ROUNDELAY_READER", reader)
    return AppTest.from_file(str(MAIN), default_timeout=30).run()


def text_of(page: AppTest) -> str:
    return " ".join(str(element.proto.body) for element in page.get("html"))


def at(page: AppTest, path: str) -> AppTest:
    return page.switch_page(f"pages/{path}.py").run()


def charts_of(page: AppTest) -> list[str]:
    """What the charts of a page say to those who hear it."""
    return [name for piece in page.get("html") for name in read(piece.proto.body).names]


def sound(page: AppTest) -> str:
    text = text_of(page)
    assert not page.exception
    assert "went wrong" not in text
    assert "cannot be shown" not in text
    assert text.count("<h1") == 1
    return text


@pytest.mark.parametrize(("role", "path"), [*OWN, *EVERYBODY])
def test_a_page_shows_a_heading_cautions_and_its_build(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str, path: str
) -> None:
    page = at(opened(monkeypatch, real_school, READERS[role]), path)
    text = sound(page)
    assert "never of a child" in text
    assert "missing is not zero" in text
    assert "2026-05-15-20260515T071000" in text
    assert "nan" not in text.lower().split()


@pytest.mark.parametrize(("role", "path"), [pair for pair in OWN if pair[0] != "teacher"])
def test_a_page_before_the_first_lesson_is_designed_too(
    monkeypatch: pytest.MonkeyPatch, empty_school: Path, role: str, path: str
) -> None:
    sound(at(opened(monkeypatch, empty_school, READERS[role]), path))


@pytest.mark.parametrize(("role", "path"), [pair for pair in OWN if pair[0] == "teacher"])
def test_a_class_with_nothing_logged_yet_has_its_pages(
    monkeypatch: pytest.MonkeyPatch, quiet_room: Path, role: str, path: str
) -> None:
    sound(at(opened(monkeypatch, quiet_room, READERS[role]), path))


@pytest.mark.parametrize("role", READERS)
def test_a_header_has_at_most_five_words(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str
) -> None:
    page = opened(monkeypatch, real_school, READERS[role])
    own = [page.word for page in PAGES if role in page.roles]
    links = [link.proto.label for link in page.get("page_link")]
    assert sorted(links[: len(own)]) == sorted(own)
    assert len(own) <= 5


def test_every_chart_has_words_for_those_who_hear_it(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    charts = [
        name
        for role, path in OWN
        for name in charts_of(at(opened(monkeypatch, real_school, READERS[role]), path))
    ]
    assert len(charts) > 40
    assert [name for name in charts if len(name) < 15] == []


def test_without_a_build_there_is_a_first_step(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    page = opened(monkeypatch, tmp_path, "principal")
    assert not page.exception
    assert "Load your roster to begin" in text_of(page)


def test_a_broken_build_says_what_happened_and_what_is_safe(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "snapshots").mkdir()
    (tmp_path / "snapshots" / "current").write_text("2026-01-01-20260101T000000", encoding="utf-8")
    page = opened(monkeypatch, tmp_path, "principal")
    assert not page.exception
    assert "Everything that was received is safe" in text_of(page)


def test_a_mistake_of_ours_shows_no_insides(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    def broken(*_: object) -> None:
        raise ValueError("secret insides")

    st.cache_resource.clear()
    monkeypatch.setattr("app.text.sentences.taught", broken)
    page = opened(monkeypatch, real_school, "principal")
    text = text_of(page)
    assert "our mistake, not yours" in text
    assert "secret insides" not in text


def test_a_real_school_offers_no_change_of_reader(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    page = opened(monkeypatch, real_school, "principal")
    assert "view_as" not in [box.key for box in page.selectbox]


def test_a_demo_says_that_the_change_of_reader_is_for_the_demo(
    monkeypatch: pytest.MonkeyPatch, school: Path
) -> None:
    page = opened(monkeypatch, school, "")
    box = page.selectbox(key="view_as")
    assert box.label == "Demo: view as"
    box.set_value("teacher:room-2").run()
    assert "Room 2, Grade 1" in sound(page)


def test_a_teacher_who_is_not_in_the_build_is_answered_kindly(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    page = opened(monkeypatch, real_school, "teacher:room-99")
    assert not page.exception
    assert "no class of that name" in text_of(page)


def test_an_old_build_is_said_to_be_old(monkeypatch: pytest.MonkeyPatch, real_school: Path) -> None:
    assert "Last built" in text_of(opened(monkeypatch, real_school, "principal"))


def test_a_page_that_no_scope_came_through_shows_nothing(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(real_school))
    alone = AppTest.from_file(str(MAIN.parent / "pages" / "my_turns.py"), default_timeout=30)
    alone.session_state["roundelay sent to the door"] = True
    page = alone.run()
    assert page.exception
    assert "Imani" not in text_of(page)


def test_names_of_children_stand_in_the_pages_of_their_own_room_only(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    named = set()
    for role, path in OWN:
        page = at(opened(monkeypatch, real_school, READERS[role]), path)
        if "Imani" in text_of(page):
            named.add((role, path))
    assert named == {("teacher", "my_class"), ("teacher", "my_turns")}
