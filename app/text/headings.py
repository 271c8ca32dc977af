"""Headings of pages and the line under them."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text.dates import as_date, day
from app.text.numbers import counted, figure, missing
from app.text.plain_numbers import counted_link
from app.text.words import PATTERN, grade_list, spoken

Row = Mapping[Hashable, object]


def school_heading(word: str, term: Row | None) -> str:
    """`Schoolwide, autumn term so far`."""
    if term is None:
        return word
    title = _lower_first(str(term["title"]))
    return f"{word}, {title}{' so far' if term['is_current'] else ''}"


def school_under(school: Row, term: Row | None) -> str:
    """The school, its size, the day the numbers look from, and the week of the term."""
    size = f"{counted(figure(school['class_count']), 'class', 'classes')}, {_pupils(school)}"
    parts = [
        str(school["school_name"]),
        counted_link(size, "classes_and_pupils", school=school["school_id"]),
        f"as of {day(school['as_of_on'])}",
    ]
    if term is not None and term["is_current"] and not missing(school["week_number"]):
        week = f"week {round(figure(school['week_number']) or 0)}"
        parts.append(f"{week} of {round(figure(school['week_count']) or 0)}")
    return " · ".join(parts)


def class_under(room: Row) -> str:
    """The class, its grades and size, and who may see the page."""
    parts = [
        f"{room['title']}, {grade_list(room['grade_codes'])}",
        counted(figure(room["pupil_count"]), "child", "children"),
    ]
    if str(room["session_pattern"]) not in ("full_day", ""):
        parts.append(spoken(room["session_pattern"], PATTERN))
    return " · ".join([*parts, "only this class’s own teachers see this page"])


def week_of_term(room: Row) -> str:
    """`Spring term, week 5 of 10`."""
    week, weeks = figure(room["week_number"]), figure(room["week_count"])
    if week is None or weeks is None:
        return str(room["term_title"])
    return f"{room['term_title']}, week {round(week)} of {round(weeks)}"


def dates_of(term: Row) -> str:
    """`Monday 13 April to Friday 19 June`."""
    if as_date(term["first_on"]) is None:
        return ""
    return f"{day(term['first_on'])} to {day(term['last_on'])}"


def _pupils(school: Row) -> str:
    count = figure(school["pupil_count"])
    return "pupils not shown" if count is None else counted(count, "pupil")


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
