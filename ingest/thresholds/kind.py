"""What one number that a school may set looks like."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Threshold:
    """One number a school may set: allowed from `lowest` to `highest`, both included."""

    name: str
    default: float
    lowest: float
    highest: float
    description: str
    source_note: str
    is_whole: bool = False


def share(name: str, default: float, description: str, source_note: str) -> Threshold:
    """A number from 0 to 1."""
    return Threshold(name, default, 0.0, 1.0, description, source_note)


def count(
    name: str, default: int, highest: int, description: str, source_note: str, lowest: int = 0
) -> Threshold:
    """A whole number."""
    return Threshold(name, default, lowest, highest, description, source_note, is_whole=True)


CONVENTION = "Our own convention; no source was found."
PRACTICE = "Common practice; no source was found."
