"""Who is reading, in words."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pandas as pd

from app.text.words import ROLE

OWNERS = {
    "principal": "the principal",
    "support": "the support team",
    "steward": "the data steward",
    "teacher": "the teacher of the class",
}


def reader_words(key: str, title: str = "") -> str:
    """`Principal`, `Teacher · Room 3 (Herons)`; a class whose title is not known by its key."""
    role, _, class_id = key.partition(":")
    return f"{ROLE[role]} · {title or class_id}" if class_id else ROLE[role]


def reader_names(readers: pd.DataFrame) -> dict[str, str]:
    """Each reader's key with its words, by name within the teachers."""
    rows = readers.to_dict("records")
    return {
        str(row["reader"]): f"Teacher, {row['title']}"
        if row["title"]
        else reader_words(row["reader"])
        for row in sorted(rows, key=lambda row: natural(str(row["title"])))
    }


def natural(text: str) -> tuple[tuple[int, str], ...]:
    """A key that puts Room 2 before Room 10."""
    parts = re.split(r"(\d+)", text)
    return tuple((int(part), "") if part.isdigit() else (0, part) for part in parts)


def owners(roles: Iterable[str]) -> str:
    """`the principal and the support team`."""
    names = [OWNERS[role] for role in roles]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


SEES = {
    "teacher": (
        "Teacher",
        "Her own class: its lessons, turns with the children’s names, visits without observers. "
        "What the whole school sees. No other class.",
    ),
    "support": (
        "Support team",
        "Every class by name, with its visits, offers and coaching. No child’s name, and no list "
        "in the order of a score.",
    ),
    "principal": (
        "Principal",
        "The school, its grades, routines and tiers. No single class and no child.",
    ),
    "steward": (
        "Data steward",
        "Files, what was set aside and why, and gaps by class. The values of a row stay in the "
        "correction sheets.",
    ),
}


def sees_table() -> pd.DataFrame:
    """Each reader and what is theirs."""
    return pd.DataFrame([{"Reader": name, "Can see": sees} for name, sees in SEES.values()])
