"""What kind of school day a calendar entry means, by its categories or by agreed words.

Nothing is guessed: a category must be the name of a kind, or a whole part of the summary must be
one of the phrases below. "No school - river day" is a closure, "No school uniform day" is nothing.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ingest.contracts import load_contracts

# The agreed phrases: ours, of common use in school calendars. Case and hyphens do not matter.
PHRASES: Mapping[str, tuple[str, ...]] = {
    "instruction": (
        "school day",
        "instruction day",
        "instruction",
        "first day of school",
        "last day of school",
        "first day of term",
        "last day of term",
        "school resumes",
        "make up day",
    ),
    "half_am": ("half day am", "half day morning", "morning only", "am only"),
    "half_pm": ("half day pm", "half day afternoon", "afternoon only", "pm only"),
    "early_release": ("early release", "early release day", "early dismissal", "early closing"),
    "closed_planned": (
        "school closed",
        "schools closed",
        "no school",
        "closed",
        "holiday",
        "holidays",
        "public holiday",
        "bank holiday",
        "school holiday",
        "school holidays",
        "half term",
        "half term break",
        "mid term break",
        "autumn break",
        "fall break",
        "winter break",
        "spring break",
        "summer break",
        "vacation",
    ),
    "closed_emergency": (
        "emergency closure",
        "emergency closing",
        "weather closure",
        "closed for weather",
        "snow day",
        "snow closure",
        "flood closure",
        "heat closure",
    ),
    "staff_only": (
        "staff day",
        "staff only",
        "staff development day",
        "staff training day",
        "teacher workday",
        "teacher work day",
        "professional development day",
        "in service day",
        "inset day",
        "pupil free day",
        "student free day",
    ),
    "remote": (
        "remote day",
        "remote learning",
        "remote learning day",
        "remote instruction",
        "remote instruction day",
        "distance learning day",
    ),
}

_KIND_OF_PHRASE = {phrase: kind for kind, phrases in PHRASES.items() for phrase in phrases}
_PARTS = re.compile(r"[:;,()\[\]/|]|\s[-–—]\s")
_FOR = re.compile(r"(grade|class):(.+)", re.IGNORECASE)


@dataclass(frozen=True)
class Meaning:
    """What an entry means: its kind (None when it says none, or several), and for whom.

    `ignored` counts the categories that say neither a kind nor for whom.
    """

    kind: str | None
    applies_to: tuple[str, ...]
    ignored: int


def grade_codes() -> frozenset[str]:
    """Return the grade codes that a category may be, as the contract of the classes lists them."""
    return frozenset(load_contracts()["classes"].field("grades").item_enum)


def meaning_of(summary: str, categories: Iterable[str], said_for: str | None) -> Meaning:
    """Tell kind and audience of an entry.

    `said_for` is the value of X-ROUNDELAY-APPLIES-TO: `*`, grade codes or class keys, separated by
    commas. Without it, categories say it: `*`, a grade code, `grade:01` or `class:<key>`; without
    these the entry is for everyone.
    """
    kinds: set[str] = set()
    audience: list[str] = []
    ignored = 0
    for category in (word.strip() for word in categories):
        named = _FOR.fullmatch(category)
        if category.lower() in PHRASES:
            kinds.add(category.lower())
        elif named:
            audience.append(named.group(2).strip())
        elif category == "*" or category in grade_codes():
            audience.append(category)
        elif category:
            ignored += 1
    if not kinds:
        kinds = _kinds_in(summary)
    if said_for is not None:
        audience = [word.strip() for word in said_for.split(",") if word.strip()]
    kind = next(iter(kinds)) if len(kinds) == 1 else None
    return Meaning(kind, tuple(dict.fromkeys(audience)) or ("*",), ignored)


def _kinds_in(summary: str) -> set[str]:
    """Return the kinds of the parts of a summary that are agreed phrases as a whole."""
    parts = (" ".join(re.split(r"[\s\-]+", part)).strip() for part in _PARTS.split(summary.lower()))
    return {_KIND_OF_PHRASE[part] for part in parts if part in _KIND_OF_PHRASE}
