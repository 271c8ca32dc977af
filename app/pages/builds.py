"""Builds: the one on show, a new one, and the way back to an earlier one."""

from __future__ import annotations

from app.access import here
from app.look import cards, words
from app.pages.parts import around, desk, desk_builds, desk_work


def show() -> None:
    """Build now, and every build that is kept."""
    visit = here()
    own = desk.desk_of(visit.reader)
    heading, _ = around.top(visit)
    with heading:
        words.title("Builds", "All figures come from one build. Only a whole one is ever shown.")
    desk.what_was_said()
    with cards.card("build"):
        words.card_title("A new build")
        desk_builds.build_step(own)
    desk_work.at_work(own, "build", "back")
    desk_builds.kept(own)
    desk.diary(own)
    around.bottom(visit)


show()
