"""Bring in: files are dropped, checked and loaded, with every verdict shown."""

from __future__ import annotations

from app.access import here
from app.look import cards, words
from app.pages.parts import around, desk, desk_builds, desk_files, desk_work


def show() -> None:
    """The drop, what is at work or became of it, what waits, and the next step."""
    visit = here()
    own = desk.desk_of(visit.reader)
    heading, _ = around.top(visit)
    with heading:
        words.title("Bring in", "Every file is checked row by row. Nothing sent is lost.")
    desk.what_was_said()
    desk_files.drop(own)
    desk_work.at_work(own, "load", "build")
    desk_files.waiting(own)
    with cards.card("next"):
        words.card_title("The next step")
        desk_builds.build_step(own)
    desk.diary(own)
    around.bottom(visit)


show()
