"""What can be wrong with a cell, as a condition in SQL."""

from dataclasses import dataclass

from ingest.compile_sql import text


@dataclass(frozen=True)
class Fault:
    """A condition under which the cell breaks a generic rule; the texts fill its message."""

    rule: str
    condition: str
    limit: str = ""
    allowed: tuple[str, ...] = ()


def matches(value: str, pattern: str) -> str:
    """Whether all of a text has this form."""
    return f"regexp_full_match({value}, {text(pattern)})"
