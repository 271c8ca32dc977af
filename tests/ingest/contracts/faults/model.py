"""One fault as data: the rows of its bad file, and exactly what must be said about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

Row = Mapping[str, str]


@dataclass(frozen=True)
class Expected:
    """One finding that must come, and where. `line` counts the header as line 1."""

    rule: str
    verdict: str
    line: int | None
    column: str | None


@dataclass(frozen=True)
class Fault:
    """A bad file: `rows` are changes to the feed's good row, or `raw` is the whole file.

    `before` holds rows of other feeds (or of this one) that are loaded first. `known` rows are
    those the store already has; what is neither set aside, refused nor known must be accepted.
    """

    name: str
    feed: str
    rows: tuple[Row, ...]
    expected: tuple[Expected, ...]
    before: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)
    raw: bytes | None = None
    received: int | None = None
    known: int = 0
    ending: str = ".csv"

    @property
    def received_count(self) -> int:
        """Rows in the file."""
        return len(self.rows) if self.received is None else self.received

    @property
    def refused_count(self) -> int:
        """All rows when the file is refused, else none."""
        is_refused = any(one.verdict == "refuse" for one in self.expected)
        return self.received_count if is_refused else 0

    @property
    def quarantined_count(self) -> int:
        """Rows that at least one finding sets aside."""
        if self.refused_count:
            return 0
        return len({one.line for one in self.expected if one.verdict == "quarantine"})


def aside(rule: str, column: str | None, *lines: int) -> tuple[Expected, ...]:
    """The rule sets these lines aside; without lines, the first row."""
    return tuple(Expected(rule, "quarantine", line, column) for line in lines or (2,))


def warned(rule: str, column: str | None, *lines: int) -> tuple[Expected, ...]:
    """The rule warns about these lines; without lines, the first row."""
    return tuple(Expected(rule, "warn", line, column) for line in lines or (2,))


def warned_of_file(rule: str, column: str | None) -> tuple[Expected, ...]:
    """The rule warns about the file as a whole."""
    return (Expected(rule, "warn", None, column),)


def refused(rule: str, column: str | None = None, line: int | None = None) -> tuple[Expected, ...]:
    """The rule refuses the file."""
    return (Expected(rule, "refuse", line, column),)


def row(**cells: object) -> Row:
    """Changes to the feed's good row."""
    return {name: str(value) for name, value in cells.items()}
