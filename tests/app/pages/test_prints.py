"""A page on paper is offered where it belongs, and made only when it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import streamlit as st

from app.access import Scope, Snapshot
from app.paper import brief, coach, kept
from tests.app.invented import rows
from tests.app.pages.test_every_page import READERS, a_running_server, at, opened, sound
from tests.app.paper.rooms import as_teacher
from tests.app.paper.worlds import opened as scope_of
from tests.app.snapshot import write_snapshot

__all__ = ["a_running_server"]
ROOM = {
    "Cards for the draw (PDF)",
    "Routine cards (PDF)",
    "Half page for home (PDF)",
    "Tally sheets (PDF)",
}
LABELS = {"brief": "Brief on two pages (PDF)", "coach": "Coach’s page on paper (PDF)"}


@pytest.fixture
def presses(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every page that is set, by its kind."""
    st.cache_data.clear()
    made: list[str] = []

    def counting(kind: str) -> Callable[..., bytes]:
        def make(*_: object) -> bytes:
            made.append(kind)
            return f"%PDF {kind}".encode()

        return make

    monkeypatch.setattr(brief, "printed", counting("brief"))
    monkeypatch.setattr(coach, "printed", counting("coach"))
    return made


@pytest.mark.parametrize(
    ("role", "path", "kind"),
    [
        ("principal", "schoolwide", "brief"),
        ("support", "schoolwide", "brief"),
        ("support", "meeting", "coach"),
    ],
)
def test_the_button_stands_there_and_nothing_is_made_before_it_is_pressed(
    monkeypatch: pytest.MonkeyPatch,
    real_school: Path,
    presses: list[str],
    role: str,
    path: str,
    kind: str,
) -> None:
    page = at(opened(monkeypatch, real_school, READERS[role]), path)
    sound(page)
    labels = [one.proto.label for one in page.get("download_button")]
    assert labels.count(LABELS[kind]) == 1
    assert presses == []


@pytest.mark.parametrize(("role", "path"), [("teacher", "my_class"), ("steward", "came_in")])
def test_other_readers_are_not_offered_it(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str, path: str
) -> None:
    page = at(opened(monkeypatch, real_school, READERS[role]), path)
    labels = {one.proto.label for one in page.get("download_button")}
    assert labels & set(LABELS.values()) == set()


def test_without_an_open_offer_there_is_no_page_for_a_coach(
    monkeypatch: pytest.MonkeyPatch, empty_school: Path
) -> None:
    page = at(opened(monkeypatch, empty_school, "support"), "meeting")
    sound(page)
    labels = [one.proto.label for one in page.get("download_button")]
    assert LABELS["coach"] not in labels


def test_a_page_is_made_once_for_each_build_and_reader(school: Path, presses: list[str]) -> None:
    scope, snapshot = scope_of(school)
    team, _ = scope_of(school, "support")
    for one in (scope, scope, team):
        assert kept.brief_file(one, snapshot, "quillbrook", "spring") == b"%PDF brief"
    kept.brief_file(scope, snapshot, "quillbrook", "winter")
    assert presses == ["brief"] * 3
    for _ in range(2):
        kept.coach_file(team, snapshot, "quillbrook", "spring", "class-room-3-voice")
    assert presses[3:] == ["coach"]
    assert isinstance(snapshot, Snapshot)


@pytest.mark.parametrize(
    ("path", "offered"),
    [("my_class", ROOM), ("my_turns", {"Cards for the draw (PDF)", "Tally sheets (PDF)"})],
)
def test_a_teacher_is_offered_paper_for_her_room(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, path: str, offered: set[str]
) -> None:
    page = at(opened(monkeypatch, real_school, READERS["teacher"]), path)
    sound(page)
    labels = [one.proto.label for one in page.get("download_button")]
    assert sorted(label for label in labels if label in ROOM) == sorted(offered)


def test_before_a_routine_is_defined_only_cards_and_sheets_are_offered(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    told = rows()
    told["mart_routines"] = []
    write_snapshot(tmp_path, told, is_demo=False)
    page = at(opened(monkeypatch, tmp_path, READERS["teacher"]), "my_class")
    labels = {one.proto.label for one in page.get("download_button")}
    assert labels & ROOM == {"Cards for the draw (PDF)", "Tally sheets (PDF)"}


@pytest.mark.parametrize("role", ["principal", "support", "steward"])
def test_paper_for_the_room_is_for_its_teacher_only(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str
) -> None:
    page = opened(monkeypatch, real_school, READERS[role])
    labels = {one.proto.label for one in page.get("download_button")}
    assert labels & ROOM == set()


def test_paper_is_kept_by_reader_and_routine(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    st.cache_data.clear()
    made: list[tuple[str | None, str]] = []

    def press(scope: Scope, _snapshot: Snapshot, _school: str, routine: str) -> bytes:
        made.append((scope.reader.class_id, routine))
        return b"%PDF"

    monkeypatch.setattr(kept, "KINDS", {"home": press})
    for class_id, routine in (("room-3", ""), ("room-3", ""), ("room-2", ""), ("room-3", "line")):
        kept.room_file(*as_teacher(school, class_id), "home", routine)
    assert made == [("room-3", ""), ("room-2", ""), ("room-3", "line")]
