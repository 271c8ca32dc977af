"""The page in a real Chromium while the server comes and goes: nothing is lost, nothing twice."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from ingest import accounts
from tests.app.browser.conftest import browser as browser
from tests.app.browser.guarded import let_in, press_in
from tests.app.browser.looking import SHOTS, Looked
from tests.app.browser.servers import FLAGS, chromium
from tests.app.classroom.serving import ROOT, Server, arrive, inbox, keep, sent_away
from tests.app.invented_rooms import NAMES

pytestmark = pytest.mark.browser


@pytest.fixture
def server(real_school: Path, tmp_path: Path) -> Iterator[Server]:
    shutil.copytree(real_school, tmp_path / "w")
    workspace = let_in(tmp_path / "w")
    workspace.make_folders()
    made = Server(workspace).start()
    yield made
    made.stop()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 820, "height": 1100})
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext, server: Server) -> Page:
    made = context.new_page()
    arrive(made, server.address)
    return made


def names_on(page: Page) -> bool:
    """Whether any child's name is kept on the device."""
    kept = page.evaluate("JSON.stringify(Object.entries(localStorage))")
    return any(f'"{name}' in kept.replace("\\", "") for name in NAMES)


def fill(page: Page) -> None:
    """Leave no room at all on the device; not even for the key it gave itself."""
    page.evaluate(
        """() => {
            localStorage.removeItem('roundelay device');
            let size = 4 << 20, number = 0;
            while (size >= 1) {
                try { localStorage.setItem(`filler ${number += 1}`, 'x'.repeat(size)); }
                catch (problem) { size = Math.floor(size / 2); }
            }
        }"""
    )


def queue_line(page: Page) -> str:
    return page.locator("#queue").inner_text()


def picture(page: Page, name: str) -> None:
    SHOTS.mkdir(parents=True, exist_ok=True)
    for width, theme in ((820, "light"), (320, "dark")):
        page.set_viewport_size({"width": width, "height": 1100 if width > 400 else 640})
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert Looked(page).troubles() == []
        page.screenshot(path=SHOTS / f"class-{name}-{width}-{theme}.png")
    page.set_viewport_size({"width": 820, "height": 1100})


def test_a_record_outlives_the_server_a_reload_and_a_closed_page(
    page: Page, server: Server, context: BrowserContext
) -> None:
    server.stop()
    first = keep(page, "5")
    expect(page.locator("#queue")).to_contain_text("1 waiting")
    page.reload()
    page.locator("#bar a").first.wait_for()
    second = keep(page, "6")
    assert "saved here · 2 waiting to send" in queue_line(page)
    page.goto(f"{server.address}/classroom#tablet")
    page.locator("text=2 records are saved here").wait_for()
    picture(page, "waiting")
    page.close()
    server.start()
    again = context.new_page()
    again.goto(f"{server.address}/classroom")
    sent_away(again)
    assert inbox(server.workspace) == sorted(
        f"routine_lessons-{key}.csv" for key in (first, second)
    )


def test_a_page_that_stays_open_sends_by_itself_when_the_server_is_back(
    page: Page, server: Server
) -> None:
    server.stop()
    key = keep(page)
    expect(page.locator("#queue")).to_contain_text("no connection")
    server.start()
    sent_away(page)
    assert inbox(server.workspace) == [f"routine_lessons-{key}.csv"]


def test_an_answer_that_was_lost_on_the_way_makes_no_second_record(
    page: Page, server: Server
) -> None:
    lost: list[str] = []

    def swallow(route: object) -> None:
        route.fetch()  # type: ignore[attr-defined]
        lost.append("one")
        route.abort() if len(lost) == 1 else route.continue_()  # type: ignore[attr-defined]

    page.route("**/api/classroom/records", swallow)
    key = keep(page)
    sent_away(page)
    assert len(lost) == 2
    assert inbox(server.workspace) == [f"routine_lessons-{key}.csv"]


def test_when_the_visit_is_over_names_go_and_the_queue_waits_for_the_same_class(
    page: Page, server: Server
) -> None:
    assert names_on(page)
    server.stop()
    key = keep(page)
    accounts.end_visits(server.workspace, None, datetime.now(UTC))
    server.start()
    page.locator("h1", has_text="Sign in to go on").wait_for(timeout=90_000)
    assert not names_on(page)
    assert "1 waiting to send · sign in to send" in queue_line(page)
    picture(page, "signed-out")
    page.locator("a.button", has_text="Sign in").first.click()
    press_in(page, "imke")
    page.wait_for_url(f"{server.address}/classroom*")
    page.goto(f"{server.address}/classroom#tablet")
    page.locator("text=belong to another class").wait_for()
    assert inbox(server.workspace) == []
    page.context.clear_cookies()
    page.reload()
    page.locator("a.button", has_text="Sign in").first.click()
    press_in(page, "maren")
    page.wait_for_url(f"{server.address}/classroom*")
    sent_away(page)
    assert inbox(server.workspace) == [f"routine_lessons-{key}.csv"]


def test_a_visit_that_is_over_by_the_clock_takes_the_names_without_a_net(
    page: Page, server: Server
) -> None:
    server.stop()
    page.evaluate(
        """() => {
            const pack = JSON.parse(localStorage.getItem('roundelay pack'));
            localStorage.setItem('roundelay pack', JSON.stringify({ ...pack, until: 1 }));
        }"""
    )
    page.reload()
    page.locator("h1", has_text="Sign in to go on").wait_for()
    assert not names_on(page)


def test_a_record_that_is_not_taken_is_shown_and_goes_only_when_asked(page: Page) -> None:
    keep(page, "700")
    expect(page.locator("#queue")).to_contain_text("1 to look at")
    page.evaluate("location.hash = '#tablet'")
    page.locator("text=Minutes: at most 60").wait_for()
    picture(page, "refused")
    page.locator("button", has_text="Take it away").click()
    page.locator("button", has_text="No, keep it").click()
    page.locator("button", has_text="Take it away").click()
    page.locator("button", has_text="Yes").click()
    sent_away(page)


def test_a_full_device_says_so_and_loses_nothing(page: Page, server: Server) -> None:
    server.stop()
    kept = keep(page)
    fill(page)
    told = page.evaluate(
        """async () => {
            const { kit } = await import('/classroom/files/kit.js');
            const record = { key: kit.fresh(), revision: 1, feed: 'routine_lessons', cells: {} };
            const caught = await kit.keep(record).catch((problem) => problem);
            return [caught instanceof kit.Full, caught.message, kit.queue().length];
        }"""
    )
    assert told == [True, "This device has no room left. Nothing was saved just now.", 1]
    server.start()
    sent_away(page)
    assert inbox(server.workspace) == [f"routine_lessons-{kept}.csv"]


def test_a_full_device_still_shows_what_was_not_taken(page: Page, server: Server) -> None:
    server.stop()
    keep(page, "700")
    fill(page)
    server.start()
    expect(page.locator("#queue")).to_contain_text("1 to look at", timeout=90_000)
    page.evaluate("location.hash = '#tablet'")
    page.locator("button", has_text="Take it away").wait_for()


def test_two_windows_send_every_record_once(page: Page, server: Server) -> None:
    other = page.context.new_page()
    other.goto(f"{server.address}/classroom")
    other.locator("#bar a").first.wait_for()
    keys = [keep(one) for _ in range(3) for one in (page, other)]
    sent_away(page)
    sent_away(other)
    assert inbox(server.workspace) == sorted(f"routine_lessons-{key}.csv" for key in keys)


def test_a_class_tablet_is_paired_and_ended(page: Page, server: Server, browser: Browser) -> None:
    page.evaluate("location.hash = '#tablet'")
    page.locator("button", has_text="Make a code").click()
    code = page.locator(".code").inner_text()
    picture(page, "code")
    away = browser.new_context(viewport={"width": 820, "height": 1100})
    tablet = away.new_page()
    tablet.goto(f"{server.address}/classroom/pair")
    picture(tablet, "pair")
    tablet.locator("#code").fill(code)
    tablet.keyboard.press("Enter")
    tablet.locator("#bar a").first.wait_for()
    tablet.goto(f"{server.address}/my_class")
    assert tablet.url == f"{server.address}/classroom"
    tablet.evaluate("location.hash = '#tablet'")
    tablet.locator("text=paired until this evening").wait_for()
    picture(tablet, "paired")
    page.evaluate("location.hash = '#lesson'")
    page.evaluate("location.hash = '#tablet'")
    page.locator("button", has_text="End it").click()
    picture(page, "tablets")
    page.locator("button", has_text="Yes").click()
    page.locator("button", has_text="End it").wait_for(state="detached")
    keep(tablet)
    tablet.locator("h1", has_text="Sign in to go on").wait_for()
    assert not names_on(tablet)
    away.close()


def test_a_newer_version_is_offered_and_taken_up_when_wanted(
    page: Page, server: Server, tmp_path: Path
) -> None:
    server.stop()
    newer = tmp_path / "newer" / "app"
    shutil.copytree(ROOT / "app", newer, ignore=shutil.ignore_patterns("__pycache__"))
    with (newer / "classroom" / "static" / "app.css").open("a") as sheet:
        sheet.write("#bar { outline: 7px solid; }\n")
    server.app = newer
    server.start()
    page.reload()
    page.locator("#news button").wait_for()
    assert page.evaluate("getComputedStyle(document.getElementById('bar')).outlineWidth") != "7px"
    picture(page, "newer")
    page.locator("#news button").click()
    expect(page.locator("#bar")).to_have_css("outline-width", "7px")
    caches = page.evaluate("caches.keys()")
    assert len(caches) == 1


def test_the_page_can_be_installed(server: Server, tmp_path: Path, browser: Browser) -> None:
    """In a window that keeps its memory; a private one is never offered to be installed."""
    own = browser.browser_type.launch_persistent_context(
        str(tmp_path / "profile"), executable_path=chromium(), args=list(FLAGS)
    )
    page = own.pages[0]
    arrive(page, server.address)
    talk = own.new_cdp_session(page)
    assert talk.send("Page.getInstallabilityErrors")["installabilityErrors"] == []
    told = talk.send("Page.getAppManifest")
    own.close()
    assert told["errors"] == []
    assert json.loads(told["data"])["display"] == "standalone"
