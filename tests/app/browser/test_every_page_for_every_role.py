"""Every page as every role, signed in: three widths, two themes, twice as large, on a small phone.

A page is loaded once. In each of the six windows it is pictured, measured and checked by axe. Then
everything that is folded away is opened, and what stands there at 1280 must stand there at 640
(1280 enlarged to 200 %) and at 320: nothing lost, nothing cut off, nothing on something else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from playwright.sync_api import Browser

from app.navigation import COMMON, PAGES
from tests.app.browser.guarded import PEOPLE, guarded, let_in, signed_in
from tests.app.browser.looking import WINDOWS, Looked, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser

_OF_TERM = "routine=voice&term=spring&window=term"
_VOICE = f"measure=responsiveness&level=class&class=room-3&{_OF_TERM}"
NUMBERS = {
    "measure": f"measure=responsiveness&level=school&school=quillbrook&{_OF_TERM}",
    "rows": _VOICE,
    "withheld": "measure=support_delivery&level=tier&tier=3&school=quillbrook&routine=*"
    "&term=spring",
    "count": "measure=rows_received&level=school&school=quillbrook",
}
# Which reader opens which number; a class's own teacher and the team see its rows.
OPENED = (
    ("principal", "measure"),
    ("principal", "withheld"),
    ("principal", "count"),
    ("support", "rows"),
    ("teacher", "rows"),
    ("steward", "count"),
)
OTHERS = {"principal": "meeting", "support": "grades", "teacher": "classes", "steward": "my_class"}
NOT_HERE, REFUSED = "This number is not here", "This page belongs to"
NAMES = {role: name for name, _, role, _ in PEOPLE}


@dataclass(frozen=True)
class Place:
    """A page as one role opens it."""

    role: str
    name: str
    path: str
    refuses: str = ""

    def __str__(self) -> str:
        return f"{self.role}-{self.name}"


PLACES = [
    *[Place(role, page.path, page.path) for role in NAMES for page in PAGES if role in page.roles],
    *[Place(role, path, path) for role in NAMES for path in ("numbers", "who")],
    *[Place(role, f"number-{kind}", f"number?{NUMBERS[kind]}") for role, kind in OPENED],
    *[Place(role, "number-not-here", "number", NOT_HERE) for role in NAMES],
    Place("principal", "number-of-a-class", f"number?{_VOICE}", NOT_HERE),
    *[Place(role, "refused", path, REFUSED) for role, path in OTHERS.items()],
]


def test_every_page_that_there_is_is_looked_at() -> None:
    looked_at = {(place.role, place.path.split("?")[0]) for place in PLACES}
    assert {(role, page.path) for page in PAGES for role in page.roles} <= looked_at
    assert {(role, page.path) for page in COMMON for role in NAMES} <= looked_at


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root = tmp_path_factory.mktemp("looked-at")
    write_snapshot(root, rows(), is_demo=False)
    with guarded(let_in(root)) as at:
        yield at


@pytest.fixture(scope="module")
def readers(address: str, browser: Browser) -> Iterator[dict[str, Looked]]:
    """One window for each role, signed in."""
    opened = {role: window(browser, 1280, "light") for role in NAMES}
    for role, (_, looked) in opened.items():
        signed_in(looked.page, address, NAMES[role])
    yield {role: looked for role, (_, looked) in opened.items()}
    for context, _ in opened.values():
        context.close()


@pytest.fixture(scope="module", params=PLACES, ids=str)
def place(request: pytest.FixtureRequest) -> Place:
    found: Place = request.param
    return found


@pytest.fixture(scope="module")
def seen(place: Place, address: str, readers: dict[str, Looked]) -> Looked:
    """The page, loaded once for all that is asked of it."""
    looked = readers[place.role]
    looked.page.set_viewport_size({"width": 1280, "height": 800})
    looked.go(address, place.path)
    return looked


def test_a_page_is_sound_in_every_window(place: Place, seen: Looked) -> None:
    text = seen.page.inner_text("body")
    assert "went wrong" not in text
    assert "Page not found" not in text
    assert "Sign out" in text
    assert {said for said in (NOT_HERE, REFUSED) if said in text} == ({place.refuses} - {""})
    assert seen.page.locator("h1").count() == 1
    found = {}
    for width, theme in WINDOWS:
        seen.resize(width, theme)
        seen.save(f"{place}-{width}-{theme}")
        found[width, theme] = seen.wider_than_the_window() + seen.troubles()
    assert {size: trouble for size, trouble in found.items() if trouble} == {}
    assert seen.outside == []


def test_nothing_is_lost_twice_as_large_or_on_a_small_phone(place: Place, seen: Looked) -> None:
    seen.resize(1280, "light")
    seen.unfold()
    wide = seen.read()
    assert len(wide.texts) > 8
    found = {1280: wide.troubles + seen.troubles()}
    for width, height in ((640, 400), (320, 640)):
        seen.resize(width, "light", height)
        now = seen.read()
        lost = [f"lost: {text}" for text in wide.lost_in(now)]
        found[width] = seen.wider_than_the_window() + now.troubles + lost
    found[320] += seen.troubles()
    assert {width: trouble for width, trouble in found.items() if trouble} == {}
