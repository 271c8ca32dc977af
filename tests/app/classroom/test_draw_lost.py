"""One of two devices is lost: the other takes its names back, and the round ends as it should."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.app.browser.conftest import browser as browser
from tests.app.classroom.draw_room import Room, one_draw
from tests.app.classroom.hat_world import SITE
from tests.app.classroom.test_draw_screen import Devices, tap
from tests.app.classroom.test_draw_screen import devices as devices
from tests.app.classroom.test_draw_screen import page as page
from tests.app.classroom.test_draw_screen import room as room

pytestmark = pytest.mark.browser


def told(page: Page, had: str) -> None:
    """Everything that happened on a device has been told."""
    expect(page.locator("#queue")).to_have_text("all sent")
    page.reload()
    page.get_by_text(f"{had} have had a turn this round.").wait_for()


def test_the_names_of_a_lost_device_are_taken_back_and_nobody_is_twice_or_left_out(
    devices: Devices, page: Page, room: Room
) -> None:
    drawn = [one_draw(page)]
    told(page, "1 of 6")
    page.goto("about:blank")
    room.now += 15 * 60
    other = devices(width=390, height=800)
    expect(other.get_by_text("5 names are with another device.")).to_be_visible()
    assert other.get_by_role("button", name="Wait, then a name").count() == 0
    other.get_by_text("Other devices").click()
    expect(
        other.get_by_text("A device with 5 names, last in touch 15 minutes ago.")
    ).to_be_visible()
    tap(other, "It is lost: take its names back")
    other.get_by_role("button", name="Wait, then a name").wait_for()
    expect(other.get_by_text("Other devices")).to_have_count(0)
    drawn += [one_draw(other) for _ in range(2)]
    told(other, "3 of 6")

    page.clock.install(time=0)
    page.clock.pause_at(60_000)
    page.goto(f"{SITE}/classroom#draw")
    expect(page.get_by_text("3 names are with another device.")).to_be_visible()
    assert page.get_by_role("button", name="Wait, then a name").count() == 0, "it kept its names"
    page.clock.resume()
    other.reload()
    page.get_by_role("button", name="Wait, then a name").wait_for()
    drawn += [one_draw(page), one_draw(other), one_draw(other)]
    assert sorted(drawn) == sorted(room.names)
    for device in (page, other):
        told(device, "6 of 6")
    rows = room.standing()
    assert sorted(row["pupil_id"] for row in rows) == sorted(room.keys)
    assert {row["cycle_number"] for row in rows} == {"6"}
