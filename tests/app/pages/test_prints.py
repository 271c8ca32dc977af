"""A page on paper is offered where it belongs, and made only when it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import streamlit as st

from app.access import Snapshot
from app.paper import brief, coach, kept
from tests.app.pages.test_every_page import READERS, a_running_server, at, opened, sound
from tests.app.paper.worlds import opened as scope_of

__all__ = ["a_running_server"]
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
