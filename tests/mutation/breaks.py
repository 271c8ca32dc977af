"""Ways to break a macro: one change in its SQL, never in its comments.

Only changes of meaning are made (another operator, another constant, another function); changes
that may leave the meaning as it was, such as `<` for `<=` on real numbers, are not.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

COMMENT = re.compile(r"\{#.*?#\}|--[^\n]*", re.DOTALL)
MACRO = re.compile(r"\{%-?\s*macro\s+(\w+)\s*\(.*?\)\s*-?%\}(.*?)\{%-?\s*endmacro", re.DOTALL)
# What is left alone inside a macro: control lines that only name or import things.
QUIET = re.compile(r"\b(?:partition by|order by|group by)\s+\{\{")

SWAPS = (
    (r" \+ ", " - ", "sum"),
    (r" - ", " + ", "sum"),
    (r" \* ", " / ", "product"),
    (r" / ", " * ", "product"),
    (r" >= ", " < ", "comparison"),
    (r" <= ", " > ", "comparison"),
    (r" > ", " < ", "comparison"),
    (r" < ", " > ", "comparison"),
    (r"\bgreatest\(", "least(", "function"),
    (r"\bleast\(", "greatest(", "function"),
    (r"\bsum\(", "max(", "function"),
    (r"\bavg\(", "max(", "function"),
    (r"\bmax\(", "min(", "function"),
    (r"\bmin\(", "max(", "function"),
    (r"\bsqrt\(", "abs(", "function"),
    (r"\bexp\(", "abs(", "function"),
    (r"\bln\(", "abs(", "function"),
    (r"\babs\(", "-(", "function"),
    (r"\bpower\(", "greatest(", "function"),
    (r"\bcount\(\*\)", "(count(*) + 1)", "function"),
    (r"\band\b", "or", "logic"),
    (r"\bor\b", "and", "logic"),
    (r"\bdesc\b", "", "order"),
)
NUMBER = re.compile(r"(?<![\w.'~-])(\d+(?:\.\d+)?)(?![\w.'])")


@dataclass(frozen=True)
class Break:
    """One change: where in the file, what stood there, what stands there now."""

    macro: str
    kind: str
    start: int
    end: int
    new: str

    def applied(self, text: str) -> str:
        """The file with this one change."""
        return text[: self.start] + self.new + text[self.end :]

    def told(self, text: str) -> str:
        """The change as a reader would write it down."""
        line = text.count("\n", 0, self.start) + 1
        return f"line {line}: '{text[self.start : self.end].strip()}' -> '{self.new.strip()}'"


def breaks_of(text: str, count: int) -> list[Break]:
    """At most `count` breaks of a file: its macros in turn, of as many kinds as there are.

    The choice is fixed by the text, so that two runs break the same places.
    """
    by_macro = []
    for macro, start, end in _macros(text):
        found = [one for one in _candidates(text, macro, start, end) if not _quiet(text, one)]
        by_macro.append(_spread(found, count))
    in_turn = [one for turn in zip_longest(*by_macro) for one in turn if one is not None]
    return in_turn[:count]


def _macros(text: str) -> Iterator[tuple[str, int, int]]:
    blanked = COMMENT.sub(lambda hit: " " * len(hit.group()), text)
    for hit in MACRO.finditer(blanked):
        yield hit.group(1), hit.start(2), hit.end(2)


def _candidates(text: str, macro: str, start: int, end: int) -> Iterator[Break]:
    body = COMMENT.sub(lambda hit: " " * len(hit.group()), text)[start:end]
    for pattern, new, kind in SWAPS:
        for hit in re.finditer(pattern, body):
            yield Break(macro, kind, start + hit.start(), start + hit.end(), new)
    for hit in NUMBER.finditer(body):
        yield Break(
            macro, "constant", start + hit.start(1), start + hit.end(1), _other(hit.group(1))
        )


def _other(number: str) -> str:
    """Another number: one more, or a twentieth more where there is a fraction."""
    if "." in number:
        value = float(number)
        return repr(value * 1.05 if value else 0.05)
    return str(int(number) + 1)


def _quiet(text: str, one: Break) -> bool:
    line = text[text.rfind("\n", 0, one.start) + 1 : text.find("\n", one.end)]
    return bool(QUIET.search(line)) or line.lstrip().startswith("{%- for")


def _spread(found: list[Break], count: int) -> list[Break]:
    """Kinds in turn; within a kind the order of a digest, which favours no part of the file."""

    def digest(one: Break) -> str:
        return hashlib.sha256(f"{one.macro}:{one.start}:{one.new}".encode()).hexdigest()

    by_kind: dict[str, list[Break]] = {}
    for one in sorted(found, key=digest):
        by_kind.setdefault(one.kind, []).append(one)
    chosen: list[Break] = []
    while len(chosen) < count and any(by_kind.values()):
        for waiting in by_kind.values():
            if waiting and len(chosen) < count:
                chosen.append(waiting.pop(0))
    return chosen
