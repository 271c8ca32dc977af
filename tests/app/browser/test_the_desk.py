"""The steward's desk in a real browser: files dropped, verdicts watched, builds made and undone."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook
from playwright.sync_api import Browser, Page

from app.text.desk import load_label
from ingest import sample, start
from ingest.intake import load
from ingest.settings import load as load_settings
from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, Looked, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser
BASE = Path(__file__).resolve().parents[2] / "fixtures" / "base"
ROSTER = ("schools", "terms", "people", "classes", "memberships", "routines")
EARLIER = "2026-05-14-20260514T071000"
WINDOWS = [(width, theme) for theme in ("light", "dark") for width in (1280, 820, 390)]
DROP = "input[type=file]"


@contextmanager
def desk_of(root: Path, browser: Browser) -> Iterator[Looked]:
    """The first page of a steward over a workspace, in a window that takes downloads."""
    with served(root, "steward") as address:
        context, seen = window(browser, 1280, "light")
        seen.open(address, "bring_in", "Data steward")
        yield seen
        context.close()


def workspace(root: Path) -> Path:
    """An invented school's workspace with one small build on show and nothing loaded."""
    made = start.create(root, "Quillbrook (invented)", "quillbrook", "UTC", is_demo=True)
    write_snapshot(
        made.root, rows(), is_demo=True, build_id=EARLIER, built_at="2026-05-14T07:10:00+00:00"
    )
    return made.root


def odd_files(folder: Path) -> list[Path]:
    """A lesson file with a row to correct, one that is no table, and one without a row."""
    lines = (BASE / "routine_lessons.csv").read_text("utf-8").splitlines()
    names, cells = lines[0].split(","), lines[1].split(",")
    cells[0], cells[names.index("minutes")] = "les-odd", "0:15"
    odd = {
        "routine_lessons.csv": "\n".join([*lines[:2], ",".join(cells)]).encode(),
        "holiday.png": b"\x89PNG\r\n\x1a\n" + bytes(200),
        "empty.csv": b"",
    }
    for name, content in odd.items():
        (folder / name).write_bytes(content)
    return [folder / name for name in odd]


def send(page: Page, files: list[Path]) -> None:
    """Choose files and press the button once it says that all of them have arrived."""
    page.set_input_files(DROP, files)
    page.get_by_role("button", name=load_label(len(files)), exact=True).click()


def ended(page: Page, text: str, seconds: float = 120) -> str:
    """What stands on the page once the work has ended so."""
    page.get_by_text(text).wait_for(timeout=seconds * 1000)
    page.wait_for_function(DRAWN, timeout=45_000)
    return page.inner_text("body")


def troubles_in_every_window(seen: Looked, name: str) -> dict[tuple[int, str], list[str]]:
    found = {}
    for width, theme in WINDOWS:
        seen.resize(width, theme)
        seen.save(f"{name}-{width}-{theme}")
        found[width, theme] = seen.wider_than_the_window() + seen.troubles()
    seen.resize(1280, "light")
    return {place: trouble for place, trouble in found.items() if trouble}


def test_each_file_gets_its_verdict_and_what_cannot_be_read_waits(
    browser: Browser, tmp_path: Path
) -> None:
    root = workspace(tmp_path / "ws")
    with desk_of(root, browser) as seen:
        good = [BASE / f"{one}.csv" for one in (*ROSTER, "routine_steps", "teaching_plan")]
        send(seen.page, [*good, *odd_files(tmp_path)])
        seen.page.get_by_text("At work").wait_for()
        text = ended(seen.page, "Done: every file was looked at.")
        assert "2 files refused" in text
        assert "1 row set aside" in text
        assert "minutes is written like a clock" in text
        assert "holiday.png: refused as a whole" in text
        assert "There are no rows in this file" in text
        assert sorted(path.name for path in (root / "inbox").iterdir()) == [
            "empty.csv",
            "holiday.png",
        ]
        with seen.page.expect_download() as coming:
            seen.page.get_by_role("button", name="Download the correction sheet").click()
        sheet = load_workbook(BytesIO(coming.value.path().read_bytes())).active
        assert sheet is not None
        assert [cell.value for cell in sheet[1]][:3] == ["fix_line", "fix_reasons", "fix_remedy"]
        assert troubles_in_every_window(seen, "bring-in-verdicts") == {}
        send(seen.page, [BASE / "schools.csv"])
        seen.page.get_by_text("nothing new").wait_for(timeout=120_000)
        assert seen.outside == []


def test_a_file_that_is_too_large_is_refused_before_it_travels(
    browser: Browser, tmp_path: Path
) -> None:
    huge = tmp_path / "observation_rows.csv"
    with huge.open("wb") as stream:
        stream.truncate(101 * 1024 * 1024)
    with desk_of(workspace(tmp_path / "ws"), browser) as seen:
        seen.page.set_input_files(DROP, [huge])
        seen.page.get_by_text("File must be 100.0MB or smaller").wait_for()
        assert seen.page.get_by_role("button", name="Check and load", exact=True).is_disabled()
        assert list((tmp_path / "ws" / "inbox").iterdir()) == []
        assert seen.troubles() == []


def test_the_main_task_needs_no_mouse(browser: Browser, tmp_path: Path) -> None:
    with desk_of(workspace(tmp_path / "ws"), browser) as seen:
        page = seen.page
        with page.expect_file_chooser() as chooser:
            reach(page, "Upload")
            page.keyboard.press("Enter")
        chooser.value.set_files([BASE / f"{one}.csv" for one in ROSTER])
        page.get_by_role("button", name="Check and load 6 files", exact=True).wait_for()
        reach(page, "Check and load 6 files")
        page.keyboard.press("Enter")
        assert "6 files" in ended(page, "Done: every file was looked at.")
        reach(page, "Build now")
        page.keyboard.press("Enter")
        page.get_by_text("All figures are being made anew").wait_for()
        reach(page, "Stop it")
        page.keyboard.press("Enter")
        text = ended(page, "Stopped. The build before is still on show.")
        assert f"Build {EARLIER}" in text


def reach(page: Page, name: str) -> None:
    """Press Tab until the button of that name has the focus, with a ring that can be seen."""
    button = page.get_by_role("button", name=name, exact=True).first
    for _ in range(80):
        page.keyboard.press("Tab")
        if button.evaluate("one => one === document.activeElement"):
            assert button.evaluate("one => getComputedStyle(one).outlineStyle") == "solid"
            return
    pytest.fail(f"the keyboard does not reach “{name}”")


@pytest.mark.slow
def test_a_build_is_made_shown_and_gone_back_from(browser: Browser, tmp_path: Path) -> None:
    root = workspace(tmp_path / "ws")
    own = load_settings(root / "roundelay.toml")
    made = sample.generate(tmp_path / "files", size=sample.SMALL)
    files = sorted(path for path in made.folder.iterdir() if path.is_file())
    moment = datetime(2026, 5, 15, 12, tzinfo=UTC)
    load(files, start.Workspace(root), own, moment)
    again = tmp_path / "classes.csv"
    shutil.copyfile(made.folder / "classes.csv", again)
    with desk_of(root, browser) as seen:
        for _ in range(2):
            send(seen.page, [again])
            seen.page.get_by_text("It goes on when you close this page").wait_for()
            ended(seen.page, "Done: every file was looked at.")
        seen.page.get_by_role("link", name="Builds").click()
        ended(seen.page, "Builds that are kept")
        seen.page.get_by_role("button", name="Build now").click()
        seen.page.get_by_text("All figures are being made anew").wait_for()
        text = ended(seen.page, "Done: the new build is on show.", 570)
        shown = (root / "snapshots" / "current").read_text("utf-8").strip()
        assert shown != EARLIER
        assert f"Build {shown}" in text
        seen.page.get_by_role("button", name="Show the build of 14 May 2026").click()
        seen.page.get_by_text("Every reader will see its figures at once").wait_for()
        assert troubles_in_every_window(seen, "builds-asked") == {}
        seen.page.get_by_role("button", name="Yes, show it to everyone").click()
        text = ended(seen.page, "Done: the build you chose is on show.")
        assert f"Build {EARLIER}" in text
        assert (root / "snapshots" / "current").read_text("utf-8").strip() == EARLIER
