"""The screens for when there is nothing, too little, or something in the way: calm, with a step."""

from __future__ import annotations

from collections.abc import Iterable

from app.look import cards, html
from app.look.html import paragraph

# Drawn by the style sheet: five lines with three rests.
_RESTS = '<div class="ro-rests"><span></span><span></span><span></span></div>'


def state(
    title: str, text: str, steps: Iterable[str] = (), key: str = "state", way: str = ""
) -> None:
    """A screen with a heading, what it means, and the commands or the one link that lead on."""
    with cards.box(f"state-{key}"):
        html.put(_RESTS)
        paragraph(title, "title", "h1")
        paragraph(text, "text")
        for step in steps:
            paragraph(step, "command")
        if way:
            html.put(way)


def nothing_built() -> None:
    """There is no build yet."""
    state(
        "Load your roster to begin",
        "Nothing has been built in this workspace yet. The data steward brings in the first files "
        "on this page, or they are put into the workspace’s inbox, and then:",
        ("roundelay load", "roundelay build", "roundelay open --as principal"),
        "empty",
    )


def refused(message: str, who: str = "") -> None:
    """This page is somebody else's."""
    text = message if not who else f"{message} You are reading as {who}."
    state("This page is not yours to open", text, key="refused")


def signed_out() -> None:
    """The visit is over while the page was open."""
    state(
        "You are signed out",
        "Your visit ended: you signed out elsewhere, it was a long time, or your account changed. "
        "Everything that was kept is still there.",
        key="signed-out",
        way='<p class="ro-text"><a class="ro-leave" href="signin">Sign in again</a></p>',
    )


def not_here() -> None:
    """An address of a number that this reader's snapshot does not hold; it does not say why."""
    state(
        "This number is not here",
        "It may belong to other readers, to an earlier build, or the address may have a slip in "
        "it. Every number on your own pages can be opened from there.",
        key="not-here",
    )


def broken(message: str) -> None:
    """Something cannot be read: what happened, what is safe, whom to tell."""
    state(
        "This build cannot be shown",
        f"{message} Everything that was received is safe: nothing here can change it. Tell the "
        "person who looks after Roundelay in your school; going back to an earlier build, or "
        "building again, usually helps.",
        ("roundelay back", "roundelay build"),
        "broken",
    )


def unforeseen() -> None:
    """A mistake of ours: said plainly, without its insides."""
    state(
        "Something on this page went wrong",
        "It is our mistake, not yours, and no figure was changed: what is stored is kept whole or "
        "not at all. Other pages still work. Please tell the person who looks after Roundelay "
        "in your school what you were looking at.",
        key="unforeseen",
    )


def nothing_here(text: str) -> None:
    """Inside a card: there is nothing to show, and why that is no cause for worry."""
    html.put(_RESTS)
    paragraph(text, "note")


def stale(text: str) -> None:
    """Above a page: the build is old."""
    paragraph(text, "stale")
