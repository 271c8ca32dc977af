"""What a device makes of its own hat, asked of the page's own modules."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.app.browser.conftest import browser as browser

pytestmark = pytest.mark.browser

_TAKEN_BACK = """async ({outcome, isGivenBack}) => {
    const hats = await import('/classroom/files/hat.js');
    const talk = await import('/classroom/files/hat_talk.js');
    const names = ['pu-1', 'pu-2', 'pu-3', 'pu-4'];
    let hat = {...hats.begin('one'), alone: true, round: 1, eligible: names, share: names};
    hat = hats.draw(hat, {day: 'd', draw_id: 'draw-1', clock: 0});
    const drawn = hat.shown.pupil_id;
    hat = hats.settle(hat, outcome);
    if (isGivenBack) hat = talk.giveBack(hat, 'd');
    hat = hats.undo(hat, {day: 'd', draw_id: 'draw-2', clock: 1});
    return {
        shown: hat.shown?.pupil_id === drawn, mine: hat.share.includes(drawn),
        told: hat.news.filter((one) => one.pupil_id === drawn).map((one) => one.what),
    };
}"""


def test_a_name_that_was_given_back_does_not_stand_again_though_nobody_has_heard_of_it(
    bare: Page,
) -> None:
    """The message may end between the two: then the server gives the name to another device."""
    told = bare.evaluate(_TAKEN_BACK, {"outcome": "absent", "isGivenBack": True})
    assert told == {"shown": False, "mine": False, "told": ["drawn", "back", "undone"]}


@pytest.mark.parametrize("outcome", ["absent", "answered", "unavailable"])
def test_a_name_that_stayed_here_stands_again(bare: Page, outcome: str) -> None:
    told = bare.evaluate(_TAKEN_BACK, {"outcome": outcome, "isGivenBack": False})
    assert told == {"shown": True, "mine": True, "told": ["drawn", "undone"]}
