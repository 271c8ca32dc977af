"""Before the first build: the data steward brings in a school's first files and has them built."""

from __future__ import annotations

from app.access import Reader
from app.look import cards, words
from app.pages.parts import desk, desk_builds, desk_files, desk_work


def show(reader: Reader) -> None:
    """The desk alone; the other pages come with the first build."""
    own = desk.desk_of(reader)
    words.title("Bring in your first files", "The other pages come with the first build.")
    with cards.card("first"):
        words.plain(
            "Begin with your roster: schools, terms, classes, people, memberships. Then routines, "
            "their steps and the plan, and what classrooms send. Several files may come at once."
        )
        words.note("Every file is checked row by row. Nothing sent is lost.")
    desk.what_was_said()
    desk_files.drop(own)
    desk_work.at_work(own, "load", "build", has_pages=False)
    desk_files.waiting(own)
    with cards.card("next"):
        words.card_title("The first build")
        desk_builds.build_step(own)
    desk.diary(own)
