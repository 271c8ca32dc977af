"""In a real browser: files come out as they should, and a teacher catches up by keyboard alone."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import openpyxl
import pandas as pd
import pytest
from playwright.sync_api import Browser, Page

from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, window
from tests.app.invented import rows
from tests.app.snapshot import BUILD_ID, write_snapshot

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """A teacher's dashboard and its workspace."""
    workspace = tmp_path_factory.mktemp("room")
    write_snapshot(workspace, rows(), is_demo=False)
    with served(workspace, "teacher:room-3") as address:
        yield address, workspace


def taken(page: Page, name: str, where: Path) -> Path:
    """The file that a button gives."""
    with page.expect_download() as told:
        page.get_by_role("button", name=name).first.click()
    file = where / told.value.suggested_filename
    told.value.save_as(file)
    return file


def focus_on(page: Page, name: str, most: int = 60) -> None:
    """Go with the Tab key alone until the named button has the focus."""
    button = page.get_by_role("button", name=name).first
    for _ in range(most):
        page.keyboard.press("Tab")
        if button.evaluate("one => one === document.activeElement"):
            return
    pytest.fail(f"the keyboard does not reach “{name}”")


def test_a_table_is_taken_away_as_csv_and_as_a_workbook(
    room: tuple[str, Path], browser: Browser, tmp_path: Path
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.page.goto(f"{room[0]}/my_turns")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    table = seen.page.locator(".st-key-card-turns")
    area = table.get_by_role("region", name="Turns of each child, in the order of the queue")
    shown = area.locator("tbody tr").all_inner_texts()
    with seen.page.expect_download() as told:
        table.get_by_role("link", name="Download as CSV").click()
    file = tmp_path / told.value.suggested_filename
    told.value.save_as(file)
    got = pd.read_csv(file, comment="#")
    assert file.name == "turns-2026-05-15.csv"
    assert [text.split("\t")[0] for text in shown] == got["Child"].tolist()
    head = [row for row in csv.reader(io.StringIO(file.read_text("utf-8-sig"))) if "# " in row[0]]
    said = {name.removeprefix("# "): text for name, text in head}
    assert said["This view"].startswith(f"{room[0]}/my_turns")
    assert said["What the numbers mean"].startswith(f"{room[0]}/number")
    assert said["Build"] == BUILD_ID
    with seen.page.expect_download() as told:
        table.get_by_role("link", name="Download as XLSX").click()
    told.value.save_as(tmp_path / "turns.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "turns.xlsx")["Table"]
    cells = [cell.value for cell in sheet["A"]]
    assert cells[-len(shown) :] == got["Child"].tolist()
    context.close()


def test_the_address_in_a_file_opens_the_same_view(
    room: tuple[str, Path], browser: Browser, tmp_path: Path
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.page.goto(f"{room[0]}/my_lessons")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    with seen.page.expect_download() as told:
        seen.page.get_by_role(
            "link", name="Download as CSV: Lessons logged, the latest first"
        ).click()
    told.value.save_as(tmp_path / "lessons.csv")
    lines = (tmp_path / "lessons.csv").read_text("utf-8-sig").splitlines()
    view = next(line for line in lines if line.startswith("# This view")).split('"')[1]
    assert parse_qs(urlsplit(view).query)["term"]
    heading = seen.page.inner_text("h1")
    seen.page.goto(view)
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    assert seen.page.inner_text("h1") == heading
    assert "not among your choices" not in seen.page.inner_text("body")
    context.close()


def test_my_data_come_as_one_archive(
    room: tuple[str, Path], browser: Browser, tmp_path: Path
) -> None:
    context, seen = window(browser, 820, "light")
    seen.page.goto(f"{room[0]}/my_class")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    file = taken(seen.page, "Download my data", tmp_path)
    names = zipfile.ZipFile(file).namelist()
    assert {"README.txt", "turns.csv", "lessons.csv", "plan.csv"} <= set(names)
    assert seen.outside == []
    context.close()


def test_a_teacher_writes_down_her_week_by_keyboard_alone(
    room: tuple[str, Path], browser: Browser
) -> None:
    address, workspace = room
    context, seen = window(browser, 390, "dark")
    seen.page.goto(f"{address}/my_class")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    focus_on(seen.page, "of this week happened")
    ring = "one => getComputedStyle(one).outlineStyle"
    assert seen.page.locator(":focus").evaluate(ring) == "solid"
    seen.page.keyboard.press("Enter")
    seen.page.get_by_text("4 lessons written down").wait_for()
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    files = list((workspace / "inbox").glob("routine_lessons-*.csv"))
    assert len(files) == 4
    assert seen.troubles() == []
    assert seen.wider_than_the_window() == []
    context.close()


def test_an_answer_is_large_enough_for_a_finger(tmp_path: Path, browser: Browser) -> None:
    write_snapshot(tmp_path, rows(), is_demo=False)
    with served(tmp_path, "teacher:room-3") as address:
        context, seen = window(browser, 390, "light")
        seen.page.goto(f"{address}/my_lessons")
        seen.page.wait_for_function(DRAWN, timeout=45_000)
        answers = seen.page.get_by_role("button", name="It happened")
        assert answers.count() > 2
        for box in [answers.nth(number).bounding_box() for number in range(answers.count())]:
            assert box is not None
            assert box["height"] >= 44
        assert seen.troubles() == []
        context.close()
