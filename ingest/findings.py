"""What a check can say about a file: the finding itself, and the rules that hold for every feed.

Messages never repeat a value that was received: it may be a name. The value stands beside the
message, in `Finding.value`, for the person at the file only.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from ingest.findings_kinds import (
    CORRECTION,
    KNOWN,
    PERSON,
    QUARANTINE,
    REFUSE,
    WARN,
    GenericRule,
)
from ingest.findings_rules import GENERIC_RULES

__all__ = [
    "CORRECTION",
    "GENERIC_RULES",
    "KNOWN",
    "PERSON",
    "QUARANTINE",
    "REFUSE",
    "WARN",
    "Finding",
    "GenericRule",
    "fill",
    "generic",
]


@dataclass(frozen=True)
class Finding:
    """One thing found: which rule, where, and what to do. `count` rows share it; `line` is the
    first of them. Verdict: refuse (the file), quarantine (the row), warn, known."""

    rule: str
    verdict: str
    file_name: str
    line: int | None
    column: str | None
    value: str | None
    message: str
    remedy: str
    count: int = 1


def fill(template: str, values: Mapping[str, str]) -> str:
    """Put values in the places `{name}` of a template; other braces stay as they are."""
    for name, value in values.items():
        template = template.replace("{" + name + "}", value)
    return template


def generic(
    rule: str,
    file_name: str,
    *,
    line: int | None = None,
    column: str | None = None,
    value: str | None = None,
    detail: str = "",
    count: int = 1,
) -> Finding:
    """A finding of a generic rule, its message and remedy filled in."""
    one = GENERIC_RULES[rule]
    values = {"column": column or "", "detail": detail, "nearest": "", "limit": "", "allowed": ""}
    message, remedy = fill(one.message, values), fill(one.remedy, values)
    return Finding(rule, one.verdict, file_name, line, column, value, message, remedy, count)
