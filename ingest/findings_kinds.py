"""What a generic rule is, and its two usual kinds."""

from dataclasses import dataclass

REFUSE, QUARANTINE, WARN, KNOWN = "refuse", "quarantine", "warn", "known"
CORRECTION, PERSON = "correction", "person"


@dataclass(frozen=True)
class GenericRule:
    """A rule that follows from the list of fields or from the form of the file.

    `release`: who can let a set-aside row in: nothing but a correction, or a person as well.
    """

    name: str
    title: str
    verdict: str
    release: str
    message: str
    remedy: str


def refuse(name: str, title: str, message: str, remedy: str) -> GenericRule:
    """A rule that refuses the whole file."""
    return GenericRule(name, title, REFUSE, CORRECTION, message, remedy)


def aside(
    name: str, title: str, message: str, remedy: str, release: str = CORRECTION
) -> GenericRule:
    """A rule that sets the row aside."""
    return GenericRule(name, title, QUARANTINE, release, message, remedy)
