"""A round of names and the beginning of the next, drawn on the page by one device."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from playwright.sync_api import Page, expect

from tests.app.classroom.draw_room import name_shown
from tests.app.classroom.serving import sent_away

MORNING = datetime(2025, 12, 19, 14, 30, tzinfo=UTC)
_PUPILS = """async () => {
    const { kit } = await import(new URL('classroom/files/kit.js', document.baseURI));
    return Object.fromEntries(kit.pack.pupils.map((one) => [one.name, one.pupil_id]));
}"""


@dataclass(frozen=True)
class Drawn:
    """Who was drawn and what came of it, as keys of children."""

    away: str
    passed: str
    helped: str
    answered: tuple[str, ...]
    second: tuple[str, str]
    hand_up: str


def draw(page: Page, outcome: str) -> str:
    """Ask, wait, read the name, one tap; whose name it was."""
    page.get_by_role("button", name="Wait, then a name").click()
    page.locator(".wait").wait_for()
    page.clock.run_for(3_500)
    name = name_shown(page)
    page.get_by_role("button", name=outcome, exact=True).click()
    page.locator(".idle").wait_for()
    return name


def draw_names(page: Page, address: str) -> Drawn:
    """Round 1 to its end with one child away; of round 2 two turns, and one that is taken back."""
    page.clock.install(time=MORNING)
    page.goto(f"{address}/classroom#draw")
    page.get_by_role("button", name="Wait, then a name").wait_for()
    keys: dict[str, str] = page.evaluate(_PUPILS)
    away, passed, helped = (draw(page, o) for o in ("Away today", "Pass for now", "With help"))
    answered = [draw(page, "Answered") for _ in range(_waiting(page))]
    expect(page.get_by_text("The next question begins a new round.")).to_be_visible()
    first = draw(page, "Answered")
    draw(page, "Answered")
    page.get_by_role("button", name="Undo last").click()
    page.get_by_role("button", name="Put the name back into the hat").click()
    second = draw(page, "Another way")
    _hand_up(page, helped)
    page.clock.run_for(3_000)
    sent_away(page)
    assert len({passed, helped, *answered}) == len(answered) + 2
    return Drawn(
        keys[away], keys[passed], keys[helped], tuple(keys[one] for one in answered),
        (keys[first], keys[second]), keys[helped],
    )  # fmt: skip


def _waiting(page: Page) -> int:
    """How many children have not come up yet: all but the one away and those who had a turn."""
    words = page.get_by_text("have had a turn this round.").inner_text().split()
    had, size = int(words[0]), int(words[2])
    return size - 1 - had


def _hand_up(page: Page, name: str) -> None:
    """A hand that went up is written down and is no turn of the draw."""
    page.get_by_text("Another way to ask").click()
    page.get_by_role("button", name="A hand went up").click()
    page.get_by_role("button", name=name, exact=True).click()
    page.get_by_role("button", name="Answered", exact=True).click()
    page.locator(".idle").wait_for()
