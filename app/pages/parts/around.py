"""What stands above and below the content of every page."""

from __future__ import annotations

import streamlit as st

from app import access
from app.access import Visit
from app.look import cards, frame, states, view
from app.queries import school as ask
from app.text.dates import age_note, as_date, moment


def top(visit: Visit, heading_share: float = 2.6) -> tuple[cards.Place, cards.Place]:
    """Places for the heading and, beside it, for the choices; above them a word if it is stale."""
    schools = ask.schools(visit.scope)
    as_of = "" if schools.empty else str(as_date(schools["as_of_on"].iloc[0]))
    view.begin(visit.snapshot.build_id, as_of, visit.reader.key)
    note = age_note(visit.snapshot.built_at, access.now())
    if note:
        states.stale(f"{note} What came in since is not in these numbers yet.")
    heading, beside = cards.columns(heading_share, 1, on_one_line=True)
    with beside:
        choices = cards.Place(st.container(key="choices", horizontal=True, gap="small"))
    return heading, choices


def top_of_room(visit: Visit, heading_share: float = 2.6) -> tuple[cards.Place, cards.Place]:
    """The same for a teacher's pages, which show one class whatever an address says."""
    places = top(visit, heading_share)
    if "class" in st.query_params:
        view.say("These pages show your own class only.")
    return places


def bottom(visit: Visit) -> None:
    """The cautions, the way to the definitions, and the build."""
    built = moment(visit.snapshot.built_at)
    frame.foot(f"Build {visit.snapshot.build_id} · made {built} UTC")
