"""Offers as counts, and what belongs to a grade or to the whole school."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text.numbers import counted, figure
from app.text.plain_numbers import counted_link, plain
from app.text.readings import pick_row
from app.text.sentences import offers

Row = Mapping[Hashable, object]


def seen_classes(row: Row | None) -> tuple[int | None, int | None]:
    """Classes seen often enough, and all classes, of a measure row; None where withheld."""
    return _known(row, "seen_class_count"), _known(row, "class_count")


def offers_sentence(
    matters: pd.DataFrame, coaching: pd.DataFrame, school_id: str = "", term_id: str = ""
) -> str:
    """How many offers are open and what became of coaching."""
    row = pick_row(matters, matter_code="offers")
    help_given = None if coaching.empty else coaching.to_dict("records")[0]
    where = {"school": school_id, "term": term_id}
    return offers(
        _known(row, "open_count"),
        _known(help_given, "moved_count"),
        _known(help_given, "cycle_count"),
        plain("open_offers", **where) if school_id else None,
        plain("coaching_rounds", **where) if school_id else None,
    )


def matter_chips(matters: pd.DataFrame, grades: pd.DataFrame, routines: pd.DataFrame) -> list[str]:
    """Each matter as a few words; that there is none is said too."""
    found = _matters(matters, grades, routines)
    school = [what for code, what, _ in found if code == "school"] or ["none"]
    grade = [what for code, what, _ in found if code == "grade"] or ["none"]
    return [
        *(f"school matter: {what}" for what in school),
        *(f"grade matter: {what}" for what in grade),
    ]


def matter_note(matters: pd.DataFrame, grades: pd.DataFrame, routines: pd.DataFrame) -> str:
    """What a matter means for the class offers under it."""
    found = _matters(matters, grades, routines)
    if not found:
        return "What one class shows is a matter for that class; nothing is shared by many."
    _, what, row = found[0]
    shown, of = _known(row, "shown_class_count"), _known(row, "class_count")
    told = shown is not None and of is not None
    counts = f"{shown} of {counted(of, 'class', 'classes')}" if told else "many of the classes"
    where = {"school": row["school_id"], "term": row["term_id"]}
    said = f"{what}: {counted_link(counts, 'open_offers', **where)} show it"
    return f"{said}, so look at the timetable and the teaching first. Class offers for it are held."


def _matters(
    matters: pd.DataFrame, grades: pd.DataFrame, routines: pd.DataFrame
) -> list[tuple[str, str, Row]]:
    grade_names = dict(zip(grades["grade_code"], grades["name"], strict=True))
    names = dict(zip(routines["routine_id"], routines["name"], strict=True))
    found: list[tuple[str, str, Row]] = []
    for row in matters.to_dict("records"):
        if row["matter_code"] not in ("grade", "school"):
            continue
        routine = str(names.get(row["routine_id"], row["routine_id"]))
        grade = grade_names.get(row["grade_code"])
        what = f"{grade}, {routine.lower()}" if grade else routine.lower()
        found.append((str(row["matter_code"]), what, row))
    return found


def _known(row: Row | None, name: str) -> int | None:
    """The count; None where it is withheld. No row means that there is nothing to count."""
    if row is None:
        return 0
    found = figure(row[name])
    return None if found is None else int(found)
