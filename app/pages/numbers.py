"""What these numbers mean: each measure in words, the settings, how to read a stave."""

from __future__ import annotations

from functools import partial

import streamlit as st

from app.access import Visit, here
from app.look import cards, evidence, html, replay, states, words
from app.pages.parts import around
from app.queries import school as ask
from app.text import catalogue


def show() -> None:
    """The catalogue; a measure named in the address stands open."""
    visit = here()
    heading, _ = around.top(visit)
    with heading:
        words.title(
            "What these numbers mean", "Every measure: what is counted, of what, and its limits."
        )
    wanted = st.query_params.get("measure")
    replay.body("numbers", visit.scope, partial(_body, visit, wanted))
    around.bottom(visit)


def _body(visit: Visit, wanted: str | None) -> None:
    rows = ask.catalogue(visit.scope).to_dict("records")
    with cards.card("reading"):
        words.card_title("How to read a stave")
        words.plain(catalogue.STAVE)
        evidence.legend(*evidence.STAVE_KEY, "band", "change")
        words.plain(catalogue.RANGE)
    with cards.card("catalogue"):
        words.card_title("The measures")
        if not rows:
            states.nothing_here("The measures are listed here after the first build.")
        for row in rows:
            opened = row["measure_name"] == wanted
            with cards.fold(row["title"], f"m-{row['measure_name']}", is_open=opened):
                for text in catalogue.paragraphs(row):
                    words.plain(text)
                html.facts(catalogue.facts(row))
    settings = ask.settings(visit.scope)
    if not settings.empty:
        with cards.card("settings"):
            words.card_title("Numbers that this school may choose")
            words.note("Each with its default, and where the default comes from.")
            with cards.fold("Show them", "show-settings"):
                evidence.table(
                    catalogue.settings_table(settings),
                    "Settings and their defaults",
                    has_long_text=True,
                )


show()
