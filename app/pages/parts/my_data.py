"""Everything in the room's own file, for its teacher to take away."""

from __future__ import annotations

from functools import partial

import streamlit as st

from app.access import Scope, Visit
from app.files import About, Part, zip_file
from app.look import cards, view, words
from app.queries import room


def take_my_data(visit: Visit) -> None:
    """One archive of every row that the class's file holds, made when it is asked for."""
    about = view.about("Everything in this class’s own file")
    with cards.card("my-data"):
        words.card_title("My data")
        words.note(
            "Every row of your class’s own file as plain tables, with a note of what each is. The "
            "children’s names are in it: keep it where you keep the register."
        )
        st.download_button(
            "Download my data",
            partial(_archive, visit.scope, about),
            file_name=f"my-class-{about.as_of_on or about.build_id}.zip",
            mime="application/zip",
            key="zip-my-data",
            on_click="ignore",
        )


def _archive(scope: Scope, about: About) -> bytes:
    parts = {
        name.removeprefix("room_"): Part(room.whole_table(scope, name), told)
        for name, told in room.TABLES.items()
    }
    return zip_file(parts, about)
