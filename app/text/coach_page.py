"""The words that stand only on the coach's page: who, where, when, against what, how sure."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from datetime import date

import pandas as pd

from app.text import decisions, offer_course, offers
from app.text.brief import clipped, full_day
from app.text.classes import visits_sentence
from app.text.dates import day, short_day
from app.text.numbers import counted, figure, missing, percent
from app.text.words import grade_list, spoken

Row = Mapping[Hashable, object]
KIND = "For a coach and a teacher to look at together"
NO_COACHING = "No round of coaching has begun in this class this year."
NO_DECISION = "The team has decided nothing about this class this year."
PRIVATE = "For the support team and this class’s teacher. The teacher may decline, and may keep it."
FILL_IN = ("Talked over with the teacher on", "What we try", "Who shows it, and when")
MOST_LETTERS = 60
_MOST_CHANGES, _LABEL, _ROUTINE = 6, 40, 30


def title(row: Row, routine: str, term: Row) -> str:
    """The name of the document."""
    return f"{heading(row, routine)} · {term['title']}"


def heading(row: Row, routine: str) -> str:
    """`Room 3: voice to fit the task`."""
    low = f"{routine[:1].lower()}{routine[1:]}"
    return f"{clipped(row['class_title'], MOST_LETTERS)}: {clipped(low, MOST_LETTERS)}"


def under(school: Row, term: Row) -> str:
    """The school, the term, the day with its year."""
    name = clipped(school["school_name"], MOST_LETTERS)
    return f"{name} · {term['title']} · as of {full_day(school['as_of_on'])}"


def statement(
    row: Row, routine: Row, term: Row, visits: pd.DataFrame, line: float
) -> list[tuple[str, str]]:
    """What the sentence above it leaves open, part by part."""
    told = [
        ("Who", _who(row)),
        ("Where", _where(routine, visits)),
        ("When", _when(term, visits)),
        ("Compared with", _compared(row, line)),
        ("How sure", offers.how_sure(row)),
    ]
    return [(name, text) for name, text in told if text]


def _who(row: Row) -> str:
    parts = [clipped(row["class_title"], MOST_LETTERS), grade_list(row["grade_code"])]
    return ", ".join(part for part in parts if part)


def _where(routine: Row, visits: pd.DataFrame) -> str:
    seen = dict.fromkeys(place for place in visits["setting"] if not missing(place) and place)
    places = [spoken(place) for place in seen]
    return ", ".join(places[:4]) or spoken(routine.get("setting") or "")


def _when(term: Row, visits: pd.DataFrame) -> str:
    if visits.empty:
        return f"since {day(term['first_on'])}"
    first, last = visits["observed_on"].min(), visits["observed_on"].max()
    between = f"{short_day(first)} to {short_day(last)}"
    times = visits_sentence(visits).partition(": ")[2].rstrip(".")
    return f"{between}; visits: {times}"


def _compared(row: Row, line: float) -> str:
    said = [f"our line of {percent(line)}"]
    before = figure(row.get("previous_value"))
    if before is not None:
        enough = str(row.get("previous_sufficiency")) in ("usable", "solid")
        thin = "" if enough else ", from too few looks to say"
        said.append(f"its own term before, {percent(before)}{thin}")
    return "; ".join(said) + ". With no other class."


def why_here(row: Row) -> list[str]:
    """Why it is on the agenda, since when, and how it stands to luck."""
    said = [offers.signs(row), offer_course.against_luck(row), offer_course.since_when(row)]
    return [text for text in said if text]


def closing(row: Row) -> str:
    """What would close it."""
    return offer_course.closing(row) or "It closes when the visits are back at our line."


def follow_up(row: Row) -> str:
    """The proposed day, beside the line to write on."""
    when = row.get("next_review_on")
    return "" if missing(when) else f"proposed: {full_day(when)}"


def changed(changes: Iterable[tuple[date, str]]) -> str:
    """The marks under the stave by day: on paper nobody can point at them."""
    told = [f"{short_day(when)} {clipped(label, _LABEL)}" for when, label in sorted(changes)]
    left = len(told) - _MOST_CHANGES
    earlier = f"; and {counted(left, 'earlier change')}" if left > 0 else ""
    return f"What changed: {'; '.join(told[-_MOST_CHANGES:])}{earlier}." if told else ""


def lowest(side: str | None) -> str:
    """Which side is marked, in words."""
    return f"The lowest side is “{side}”." if side else ""


def decided(rows: pd.DataFrame, routines: Mapping[str, str], most: int) -> list[str]:
    """The newest decisions of the team about the class, each with what has moved since."""
    told = [_decided(row, routines) for row in rows.head(most).to_dict("records")]
    if not told:
        return [NO_DECISION]
    left = len(rows) - len(told)
    more = f" {counted(left, 'earlier decision')} on the dashboard." if left > 0 else ""
    return [*told[:-1], told[-1] + more]


def _decided(row: Row, routines: Mapping[str, str]) -> str:
    routine = clipped(routines.get(str(row["routine_id"]), row["routine_id"]), _ROUTINE)
    return f"**{routine}**: {decisions.when_decided(row)} {decisions.what_moved(row)}"


def tried_before(cycles: pd.DataFrame, shown: int) -> str:
    """Said when there were more rounds than the page shows."""
    left = len(cycles) - shown
    return f"{counted(left, 'earlier round')} on the dashboard." if left > 0 else ""
