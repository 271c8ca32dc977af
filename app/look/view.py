"""The view a reader looks at: its build, its choices and its address, for links and for files.

What is told here is kept, on the server, for the one run that draws the page.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING
from urllib.parse import urlencode, urlsplit, urlunsplit

import pandas as pd
import streamlit as st

from app.files import SHELF, About, Offered, offered
from app.look.html import inline, reader
from app.text.places import first_place
from app.text.plain_numbers import PLAIN

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator

_KEY = "roundelay view"
_TERM = "term"


@dataclass
class View:
    """What was told of the page so far."""

    build_id: str
    as_of_on: str
    reader: str = ""
    place: DeltaGenerator | None = None
    files: list[Offered] = field(default_factory=list)
    choices: dict[str, tuple[str, str]] = field(default_factory=dict)


def begin(build_id: str, as_of_on: str, reader: str) -> None:
    """A page of a reader begins: nothing is chosen yet, and a word may be said here later."""
    st.session_state[_KEY] = View(build_id, as_of_on, reader, st.empty())


def chose(
    key: str, label: str, names: Mapping[str, str], chosen: str, asked: str | None = None
) -> str:
    """One choice of the page, given back: its word in the address, its label and what was chosen.

    Where the address asked for something that this reader has not, it is not said what or whose:
    the answer is the same for what belongs to others and for what does not exist.
    """
    _present().choices[key] = (label, names[chosen])
    if asked not in (None, *names.values()):
        say(
            f"What the address names under “{label}” is not among your choices here, so you see "
            "the usual one."
        )
    return chosen


def say(text: str) -> None:
    """A quiet word above the page about its address."""
    place = _present().place
    if place is not None:
        place.html(f'<p class="ro-note">{inline(text)}</p>')


def about(title: str) -> About:
    """What a file of this view says about itself; where its words are explained comes later."""
    now = _present()
    others = [pair for key, pair in now.choices.items() if key != _TERM]
    return About(
        title=title,
        build_id=now.build_id,
        as_of_on=now.as_of_on,
        term=now.choices.get(_TERM, ("", ""))[1],
        chosen=tuple(others),
        view_address=address(),
        meaning_address=f"{_root()}/numbers",
    )


def explained(about: About, frame: pd.DataFrame, reader: str) -> About:
    """The same with the definition of the table's numbers, for the moment a file is asked for."""
    place = first_place(frame)
    if place is None:
        return about
    root = about.meaning_address.removesuffix("/numbers")
    if place.measure in PLAIN:
        return replace(about, meaning_address=f"{root}/{place.address}")
    address = _with(about.meaning_address, {"measure": place.measure}, reader)
    return replace(about, meaning_address=address)


def offer(name: str, mime: str, make: Callable[[], bytes]) -> Offered:
    """Offer a file of this view, which is made when it is asked for."""
    now = _present()
    file = offered(now.reader, f"{now.build_id} {address()}", name, mime, make)
    now.files.append(file)
    SHELF.put([file])
    return file


def offers() -> list[Offered]:
    """What this view has offered so far."""
    return list(_present().files)


def address() -> str:
    """The whole address of the view, with every choice in it, the usual ones included."""
    told = st.query_params.to_dict()
    told |= {key: name for key, (_, name) in _present().choices.items()}
    return _with(st.context.url or "", told, reader())


def _root() -> str:
    return (st.context.url or "").split("?")[0].rsplit("/", 1)[0]


def _with(url: str, told: dict[str, str], reader: str) -> str:
    told |= {"view_as": reader} if reader else {}
    parts = urlsplit(url)
    return urlunsplit((parts.scheme, parts.netloc, parts.path, urlencode(told), ""))


def _present() -> View:
    kept = st.session_state.get(_KEY)
    return kept if isinstance(kept, View) else View("", "")
