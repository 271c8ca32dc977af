"""The steward's desk as pages: a press starts the command, and other readers are refused."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from app import desk as room
from app.desk import Desk, work
from app.navigation import PAGES
from tests.app.desk.world import BASE, ROSTER, make_workspace, open_desk, wait
from tests.app.invented import rows
from tests.app.pages.test_every_page import a_running_server, at, opened, sound, text_of
from tests.app.snapshot import write_snapshot

__all__ = ["a_running_server"]
EARLIER, LATER = "2026-05-14-20260514T071000", "2026-05-15-20260515T071000"


@pytest.fixture
def desk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Desk:
    """A real workspace with two builds, the later one on show."""
    root = make_workspace(tmp_path / "ws")
    write_snapshot(root, rows(), build_id=EARLIER, built_at="2026-05-14T07:10:00+00:00")
    write_snapshot(root, rows(), build_id=LATER)
    return open_desk(monkeypatch, root)


def page_of(monkeypatch: pytest.MonkeyPatch, desk: Desk, path: str) -> AppTest:
    return at(opened(monkeypatch, desk.workspace, "steward"), path)


def press(page: AppTest, label: str) -> AppTest:
    [button] = [one for one in page.button if one.label == label]
    return button.click().run()


def after(page: AppTest, desk: Desk) -> AppTest:
    """The page once what was started is over."""
    started = room.current(desk)
    assert started is not None
    wait(started)
    return page.run()


def test_what_waits_is_loaded_by_a_press_and_its_verdicts_stand_on_the_page(
    monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    for feed in ROSTER:
        room.keep(desk, f"{feed}.csv", (BASE / f"{feed}.csv").read_bytes())
    room.keep(desk, "nothing.csv", b"")
    page = page_of(monkeypatch, desk, "bring_in")
    assert "Waiting in the inbox" in text_of(page)
    page = after(press(page, "Check and load what waits"), desk)
    text = sound(page)
    assert "from 7 files; nothing set aside; 1 file refused" in text
    assert "There are no rows in this file" in text
    assert "6 files</b> are not in these numbers yet" in text
    assert [file.name for file in room.waiting(desk)] == ["nothing.csv"]
    page = press(page, "Put away nothing.csv")
    assert room.waiting(desk) == []
    assert "Waiting in the inbox" not in text_of(page)


def test_going_back_needs_a_second_word_and_then_shows_the_earlier_build(
    monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    pointer = desk.snapshots / "current"
    page = page_of(monkeypatch, desk, "builds")
    assert LATER in text_of(page)
    page = press(page, "Show the build of 14 May 2026, 07:10 UTC")
    assert pointer.read_text("utf-8").strip() == LATER
    page = press(page, "Leave it as it is")
    assert pointer.read_text("utf-8").strip() == LATER
    page = press(page, "Show the build of 14 May 2026, 07:10 UTC")
    page = after(press(page, "Yes, show it to everyone"), desk)
    assert pointer.read_text("utf-8").strip() == EARLIER
    assert f"Build {EARLIER}" in sound(page)


def test_a_build_that_is_refused_says_so_and_leaves_the_one_before_on_show(
    monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    page = after(press(page_of(monkeypatch, desk, "builds"), "Build now"), desk)
    text = sound(page)
    assert "The build before is still on show" in text
    assert "load your files first" in text
    assert str(desk.workspace) not in text
    assert f"Build {LATER}" in text


def test_the_second_of_two_stewards_is_told_who_is_at_work(
    monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    page = page_of(monkeypatch, desk, "builds")
    waits = [sys.executable, "-c", "input()"]
    pipes = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE)
    with subprocess.Popen(waits, text=True, **pipes) as child:
        monkeypatch.setattr(work, "_child", lambda *_: child)
        first = room.make_build(desk)
        text = text_of(press(page, "Build now"))
        assert room.current(desk) is first
        child.communicate("done\n")
    wait(first)
    assert "Another command is at work: building, begun by Office" in text
    assert "All figures are being made anew" in text


def test_rows_are_let_in_after_a_second_word_only(
    monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    feeds = (*ROSTER, "school_days", "routine_steps", "teaching_plan")
    names = [
        room.keep(desk, f"{one}.csv", (BASE / f"{one}.csv").read_bytes()).name for one in feeds
    ]
    wait(room.load(desk, names))
    lines = (BASE / "routine_lessons.csv").read_text("utf-8").splitlines()
    again = "les-again" + lines[1][lines[1].index(",") :]
    sent = "\n".join([lines[0], lines[1], again]).encode()
    wait(room.load(desk, [room.keep(desk, "routine_lessons.csv", sent).name]))
    page = page_of(monkeypatch, desk, "set_aside")
    assert "1 decision</b> waits for you" in text_of(page)
    page = press(page, "Let in 1 row of routine_lessons.csv")
    page = press(page, "Leave them set aside")
    assert len(room.news(desk).held) == 1
    page = press(page, "Let in 1 row of routine_lessons.csv")
    page = after(press(page, "I looked: let them in"), desk)
    assert "Done: 1 row was let in." in text_of(page)
    assert room.news(desk).held == ()


@pytest.mark.parametrize("reader", ["principal", "support", "teacher:room-3"])
@pytest.mark.parametrize("path", ["bring_in", "builds", "set_aside"])
def test_another_reader_gets_no_button_even_if_the_page_were_let_through(
    monkeypatch: pytest.MonkeyPatch, desk: Desk, reader: str, path: str
) -> None:
    begun: list[object] = []
    monkeypatch.setattr(work, "_child", lambda *given: begun.append(given))
    every = ("principal", "support", "steward", "teacher")
    open_to_all = [replace(one, roles=every) if one.path == path else one for one in PAGES]
    monkeypatch.setattr("app.navigation.PAGES", tuple(open_to_all))
    page = at(opened(monkeypatch, desk.workspace, reader), path)
    assert "The desk belongs to the data steward" in text_of(page)
    assert list(page.button) == []
    assert begun == []
