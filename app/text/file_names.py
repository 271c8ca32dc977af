"""Names of files that leave the dashboard: plain letters, so that they open everywhere."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Hashable, Mapping

Row = Mapping[Hashable, object]


def plain_name(*parts: object) -> str:
    """`brief-spring-term`: letters, digits and hyphens only, at most 80 of them."""
    text = unicodedata.normalize("NFKD", "-".join(str(part) for part in parts if part))
    ascii_text = text.encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", ascii_text).strip("-")[:80] or "page"


def brief_name(school: Row, term: Row | None) -> str:
    """The file name of a brief."""
    day = str(school["as_of_on"])[:10]
    return f"{plain_name('brief', school['school_id'], term and term['title'], day)}.pdf"


def coach_name(offer: Row, term: Row) -> str:
    """The file name of a coach's page."""
    parts = ("coach", offer["class_title"], offer["routine_id"], term["title"])
    return f"{plain_name(*parts)}.pdf"


def paper_name(kind: str, class_title: object, routine: object, day: object) -> str:
    """The file name of paper for the room."""
    return f"{plain_name(kind, class_title, routine, str(day)[:10])}.pdf"
