"""One number: what it means, what it was made of, how sure it is, and from which build."""

from __future__ import annotations

from functools import partial

import streamlit as st

from app.access import Refused, Visit, here
from app.look import replay, states, words
from app.pages.parts import around, number_look, number_parts, number_rows, plain_parts
from app.text.places import place_of_address


def show() -> None:
    """The number that the address names, if this reader's snapshot holds it."""
    visit = here()
    heading, _ = around.top(visit)
    place = place_of_address(st.query_params.to_dict())
    try:
        found = None if place is None else number_look.look_up(visit, place)
        is_plain = place is not None and plain_parts.can_show(visit, place)
    except Refused:
        found, is_plain = None, False
    if place is not None and is_plain:
        with heading:
            words.title(plain_parts.title(place), plain_parts.under(visit, place))
        replay.body("number", visit.scope, partial(plain_parts.opened, visit, place))
    elif found is not None:
        with heading:
            words.title(found.title, found.scope)
        replay.body("number", visit.scope, partial(_body, visit, found))
    else:
        states.not_here()
    around.bottom(visit)


def _body(visit: Visit, found: number_look.Found) -> None:
    number_parts.opened(visit, found)
    number_rows.made_of(visit, found)
    number_parts.meaning(found)


show()
