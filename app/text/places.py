"""The address of a number: what is measured, of whom, in which routine, term and window.

A place is read from the row that a number stands in, so that every sentence and every table cell
can lead to the page that tells how it was made. Text carries a link as `[[82 %|number?...]]`; the
pages turn it into one, files to take away drop it.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from urllib.parse import parse_qsl, urlencode, urlsplit

import pandas as pd

from app.text.numbers import missing

LEVELS = ("school", "grade", "tier", "class")
WINDOWS = ("term", "last_20", "week")
LINK = re.compile(r"\[\[(.+?)\|(number\?[^\]\s]+)\]\]")
_KEYS = {"class": "class_id", "tier": "tier_code", "grade": "grade_code"}
# The longest text of an address that can be a key of ours; anything longer is junk.
_LONGEST = 120


@dataclass(frozen=True)
class Place:
    """Where one number stands. `key` names the class, grade or tier; empty for the school."""

    measure: str
    level: str
    key: str = ""
    school: str = ""
    routine: str = "*"
    term: str = ""
    window: str = "term"
    week: str = ""

    @property
    def address(self) -> str:
        """The part of the address after the dashboard's own."""
        told = {
            "measure": self.measure,
            "level": self.level,
            self.level: self.key,
            "school": self.school,
            "routine": self.routine,
            "term": self.term,
            "window": self.window,
            "week": self.week,
        }
        return f"number?{urlencode({name: text for name, text in told.items() if text})}"


def place_of_row(row: Mapping[Hashable, object], measure: str = "") -> Place | None:
    """The place of a row of a measure table; None when the row does not say what it measures."""
    name = measure or _text(row.get("measure_name"))
    if not name or name == "*" or missing(row.get("term_id")):
        return None
    level = next((one for one, column in _KEYS.items() if _told(row.get(column))), "school")
    week = _text(row.get("week_first_on"))[:10]
    return Place(
        measure=name,
        level=level,
        key=_text(row.get(_KEYS.get(level, ""))),
        school=_text(row.get("school_id")),
        routine=_text(row.get("routine_id")) or "*",
        term=_text(row.get("term_id")),
        window="week" if week else _text(row.get("window_code")) or "term",
        week=week,
    )


def place_of_address(params: Mapping[str, str]) -> Place | None:
    """The place that an address names; None for one that names none, or names junk."""
    told = {name: str(text) for name, text in params.items() if len(str(text)) <= _LONGEST}
    level = told.get("level", "")
    place = Place(
        measure=told.get("measure", ""),
        level=level,
        key=told.get(level, "") if level != "school" else "",
        school=told.get("school", ""),
        routine=told.get("routine", "*"),
        term=told.get("term", ""),
        window=told.get("window", "term"),
        week=told.get("week", ""),
    )
    return place if _is_sound(place) else None


def _is_sound(place: Place) -> bool:
    if not place.measure or place.level not in LEVELS or place.window not in WINDOWS:
        return False
    if (place.level == "school") == bool(place.key):
        return False
    return (place.window == "week") == _is_day(place.week)


def _is_day(text: str) -> bool:
    try:
        return bool(date.fromisoformat(text))
    except ValueError:
        return False


def of_term(place: Place | None, term: object) -> Place | None:
    """The same number in another term; itself, where its page tells of the term before."""
    if place is None or missing(term) or not term:
        return place
    return replace(place, term=str(term), window="term", week="")


def linked(text: str, place: Place | None) -> str:
    """Text that leads to a number's page; the text alone when there is no place."""
    return text if place is None or not text else f"[[{text}|{place.address}]]"


def unlinked(text: str) -> str:
    """The text without its links, for files and for those who hear a chart."""
    return LINK.sub(r"\1", text)


def first_place(frame: pd.DataFrame) -> Place | None:
    """The place that the first link of a table leads to; None when its numbers lead nowhere."""
    for name in frame.columns:
        for cell in frame[name]:
            found = LINK.search(cell) if isinstance(cell, str) else None
            if found:
                return place_of_address(dict(parse_qsl(urlsplit(found[2]).query)))
    return None


def _told(value: object) -> bool:
    return _text(value) not in ("", "*")


def _text(value: object) -> str:
    return "" if missing(value) else str(value)
