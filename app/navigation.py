"""Which pages there are, and whose. A page of another reader answers kindly, with no data."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import streamlit as st

from app.access import Refused
from app.text.readers import owners

if TYPE_CHECKING:
    from streamlit.navigation.page import StreamlitPage


@dataclass(frozen=True)
class PageWord:
    """A page: its word in the header, its address, its file and its readers (none = everybody)."""

    word: str
    path: str
    roles: tuple[str, ...]


PAGES = (
    PageWord("Schoolwide", "schoolwide", ("principal", "support")),
    PageWord("Meeting", "meeting", ("support",)),
    PageWord("Classes", "classes", ("support",)),
    PageWord("Visits", "visits", ("support",)),
    PageWord("By routine", "routines", ("principal", "support")),
    PageWord("By grade", "grades", ("principal",)),
    PageWord("Calendar", "calendar", ("principal",)),
    PageWord("Data health", "health", ("principal",)),
    PageWord("My class", "my_class", ("teacher",)),
    PageWord("Lessons", "my_lessons", ("teacher",)),
    PageWord("Turns", "my_turns", ("teacher",)),
    PageWord("Visits", "my_visits", ("teacher",)),
    PageWord("Bring in", "bring_in", ("steward",)),
    PageWord("What came in", "came_in", ("steward",)),
    PageWord("Set aside", "set_aside", ("steward",)),
    PageWord("Freshness", "freshness", ("steward",)),
    PageWord("Builds", "builds", ("steward",)),
)
COMMON = (
    PageWord("One number", "number", ()),
    PageWord("What these numbers mean", "numbers", ()),
    PageWord("Who can see what", "who", ()),
)
FRONT = "front"
# Whose header leads to the page for phones and tablets as well.
CLASSROOM = ("teacher", "support")
# The first word of each reader; the others follow in the order above.
_FIRST = {"support": "meeting"}


def pages_of(role: str) -> list[StreamlitPage]:
    """The pages whose words stand in this reader's header."""
    return [
        st.Page(f"pages/{page.path}.py", title=page.word, url_path=page.path)
        for page in _ordered(role)
    ]


def _ordered(role: str) -> list[PageWord]:
    own = [page for page in PAGES if role in page.roles]
    first = _FIRST.get(role, own[0].path)
    return sorted(own, key=lambda page: page.path != first)


def front_page(role: str) -> StreamlitPage:
    """What the bare address shows: the reader's first page, beside its own shareable address.

    The framework answers only `/` for a default page, never its name; hence a page of its own.
    """
    page = _ordered(role)[0]
    return st.Page(
        f"pages/{page.path}.py", title=page.word, url_path=FRONT, default=True, visibility="hidden"
    )


def all_pages(role: str) -> list[StreamlitPage]:
    """This reader's pages, those for everybody, and a kind answer for everybody else's."""
    common = [
        st.Page(f"pages/{page.path}.py", title=page.word, url_path=page.path, visibility="hidden")
        for page in COMMON
    ]
    others = [
        st.Page(
            partial(_refuse, page.roles), title=page.word, url_path=page.path, visibility="hidden"
        )
        for page in PAGES
        if role not in page.roles
    ]
    return [front_page(role), *pages_of(role), *common, *others]


def header_words(role: str, pages: Sequence[StreamlitPage]) -> list[StreamlitPage]:
    """Those of all pages whose words stand in this reader's header, in their order."""
    own = {page.path for page in PAGES if role in page.roles}
    return [page for page in pages if page.url_path in own]


def closed_pages(state: Callable[[], None]) -> StreamlitPage:
    """Every address answers with one state: there is no build, or none that can be read."""
    pages = [
        st.Page(state, title="Roundelay", url_path=path, default=path == FRONT)
        for path in dict.fromkeys((FRONT, *(page.path for page in (*PAGES, *COMMON))))
    ]
    return st.navigation(pages, position="hidden")


def _refuse(roles: tuple[str, ...]) -> None:
    raise Refused(f"This page belongs to {owners(roles)}.")
