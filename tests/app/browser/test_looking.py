"""What looks at pages: it finds what a reader would stumble over, and only that."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.app.browser.looking import Looked, window

pytestmark = pytest.mark.browser
LONG = "A lesson that was planned and given"


@pytest.fixture
def seen(browser: Browser) -> Iterator[Looked]:
    context, looked = window(browser, 320, "light")
    yield looked
    context.close()


def of(seen: Looked, inner: str) -> list[str]:
    style = "<style>body { margin: 8px; font: 16px/1.5 sans-serif }</style>"
    seen.page.set_content(f"<html lang=en><title>t</title>{style}<main>{inner}</main></html>")
    return seen.read().troubles


@pytest.mark.parametrize(
    ("inner", "finds"),
    [
        (f"<p style='white-space: nowrap'>{LONG} {LONG}</p>", "the page is"),
        (f"<p style='width: 90px; overflow: hidden; white-space: nowrap'>{LONG}</p>", "cut off"),
        (f"<p style='margin-left: -40px'>{LONG}</p>", "cut off"),
        (f"<p style='width: 90px; height: 30px; overflow: hidden'>{LONG}</p>", "cut off"),
        (
            "<p>Settling to listen</p><p style='margin-top: -40px'>Fair turns</p>",
            "one on the other",
        ),
        (
            "<svg width=90 height=30><text y=20>Room 3</text><text y=20 x=20>Room 4</text></svg>",
            "one on the other: Room 3 / Room 4",
        ),
        (
            f"<div style='overflow-x: auto; white-space: nowrap' tabindex=0>{LONG} {LONG}</div>",
            "without a name",
        ),
        (
            "<div style='overflow-x: auto; white-space: nowrap' role=region aria-label=Table>"
            f"{LONG} {LONG}</div>",
            "out of the keyboard",
        ),
    ],
    ids=[
        "too wide",
        "cut off",
        "off the left",
        "cut below",
        "overlap",
        "labels",
        "no name",
        "no focus",
    ],
)
def test_what_a_reader_would_stumble_over_is_found(seen: Looked, inner: str, finds: str) -> None:
    found = of(seen, inner)
    assert any(finds in one for one in found), found


def test_what_is_as_it_should_be_is_not_found(seen: Looked) -> None:
    inner = (
        f"<h1>By grade</h1><p>{LONG}, <b style='font-size: 26px'>82 %</b> of them, {LONG}</p>"
        "<div style='overflow-x: auto; white-space: nowrap' role=region aria-label=T tabindex=0>"
        f"<table><tr><th>Week</th><td>{LONG}</td><td>{LONG}</td></tr></table></div>"
        "<p style='position: absolute; width: 1px; height: 1px; overflow: hidden'>for listening</p>"
    )
    assert of(seen, inner) == []


def test_a_text_or_a_picture_that_goes_away_is_missed(seen: Looked) -> None:
    of(seen, f"<p>{LONG}</p><p>Twice</p><p>Twice</p><img alt='A stave' width=9 height=9>")
    full = seen.read()
    of(seen, "<p>Twice</p><p style='display: none'>Twice</p>")
    assert full.lost_in(seen.read()) == [LONG, "Twice", "A stave"]
    assert seen.read().lost_in(full) == []


def test_axe_is_asked_and_answers(seen: Looked) -> None:
    of(seen, "<button></button><p style='color: #999'>pale</p>")
    assert [found.split(":")[0] for found in seen.troubles()] == ["button-name", "color-contrast"]
