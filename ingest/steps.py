"""The named points of a build. A power cut may fall between any two; tests make it fall at each."""

from collections.abc import Callable
from enum import StrEnum

Hook = Callable[["Step"], None]
Progress = Callable[[str, int, int], None]


class Step(StrEnum):
    """Where a build stands, in the order in which the points are passed."""

    LOCKED = "locked"
    COMPUTING = "computing"
    COMPUTED = "computed"
    COPYING = "copying"
    COPIED = "copied"
    FLUSHED = "flushed"
    DESCRIBED = "described"
    POINTER_WRITTEN = "pointer_written"
    FLIPPED = "flipped"
    TIDIED = "tidied"


def no_hook(step: Step) -> None:
    """What a build does at each point unless it is given something else: nothing."""


def no_progress(label: str, done: int, total: int) -> None:
    """Shows nothing."""
