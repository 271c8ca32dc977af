"""Behind the sign-in the desk works for the steward, under their name, and for nobody else."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from ingest.workspace import Workspace
from tests.app.browser.guarded import guarded, let_in, signed_in
from tests.app.browser.looking import window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser
BASE = Path(__file__).resolve().parents[2] / "fixtures" / "base"


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Workspace]]:
    root = tmp_path_factory.mktemp("guarded-desk")
    write_snapshot(root, rows(), is_demo=False)
    own = let_in(root)
    own.make_folders()
    with guarded(own) as address:
        yield address, own


def test_what_a_steward_does_is_kept_under_their_name(
    browser: Browser, house: tuple[str, Workspace]
) -> None:
    address, own = house
    context, seen = window(browser, 1280, "light")
    signed_in(seen.page, address, "tadeo", "bring_in")
    seen.page.set_input_files("input[type=file]", [BASE / "schools.csv"])
    seen.page.get_by_role("button", name="Check and load 1 file", exact=True).click()
    seen.page.get_by_text("Done: every file was looked at.").wait_for(timeout=120_000)
    lines = (own.logs / "desk.jsonl").read_text("utf-8").splitlines()
    who = {json.loads(line)["who"] for line in lines}
    assert who == {"Tadeo Quill"}
    assert next(path.name for path in own.received.iterdir()).endswith("-schools.csv")
    assert seen.outside == []
    context.close()


@pytest.mark.parametrize("name", ["anna", "imke", "maren"])
@pytest.mark.parametrize("path", ["bring_in", "builds", "set_aside"])
def test_others_who_know_the_address_find_no_desk(
    browser: Browser, house: tuple[str, Workspace], name: str, path: str
) -> None:
    address, own = house
    before = sorted(file.name for file in own.root.rglob("*") if file.parent.name == "inbox")
    context, seen = window(browser, 1280, "light")
    signed_in(seen.page, address, name, path)
    assert "belongs to the data steward" in seen.page.inner_text("body")
    assert seen.page.locator("input[type=file]").count() == 0
    names = [one.inner_text() for one in seen.page.get_by_role("button").all()]
    assert not {"Build now", "Check and load", "Stop it"} & set(names)
    assert before == sorted(
        file.name for file in own.root.rglob("*") if file.parent.name == "inbox"
    )
    context.close()
