"""Who may write which feed: told by the scope of the visit, never by what a page shows."""

from __future__ import annotations

from collections.abc import Mapping

from app.access import Refused, Scope

WRITERS: Mapping[str, tuple[str, ...]] = {
    "offer_decisions": ("support",),
    "routine_lessons": ("teacher",),
    "participation_draws": ("teacher",),
    "observation_sessions": ("teacher", "support"),
    "family_practice": ("teacher",),
}


def may_write(scope: Scope, feed: str) -> bool:
    """Whether this reader may write rows of a feed; a feed that is not listed is nobody's."""
    return scope.reader.role in WRITERS.get(feed, ())


def ask_leave(scope: Scope, feed: str) -> None:
    """Let a writer of the feed through; `Refused` for everybody else."""
    if not may_write(scope, feed):
        raise Refused("What is written down here is for other readers to write.")


def ask_class(scope: Scope, class_id: str) -> None:
    """A teacher writes about her own class only; `Refused` for any other."""
    if scope.reader.role == "teacher" and class_id != scope.reader.class_id:
        raise Refused("This is for another room to write.")
