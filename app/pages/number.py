"""One number: what it means, what it was made of, how sure it is, and from which build."""

from __future__ import annotations

import streamlit as st

from app.access import Refused, here
from app.look import states, words
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
        plain_parts.opened(visit, place)
    elif found is not None:
        with heading:
            words.title(found.title, found.scope)
        number_parts.opened(visit, found)
        number_rows.made_of(visit, found)
        number_parts.meaning(found)
    else:
        states.not_here()
    around.bottom(visit)


show()
