"""What both pages of a brief begin from: whose, of which school, of which term."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import Any

import pandas as pd

from app.access import Refused, Scope
from app.queries import school as ask
from app.text.brief import clipped

_MOST_TERMS = 4
Row = Mapping[Hashable, Any]


@dataclass(frozen=True)
class Facts:
    """One school and one term of it, up to which the terms are shown. No term before the first."""

    scope: Scope
    school: Row
    term: Row | None
    terms: tuple[Row, ...]
    routines: pd.DataFrame

    @property
    def school_id(self) -> str:
        """The key of the school."""
        return str(self.school["school_id"])

    @property
    def term_id(self) -> str:
        """The key of the term; empty before the first."""
        return "" if self.term is None else str(self.term["term_id"])

    @property
    def is_current(self) -> bool:
        """Whether the term is the present one."""
        return self.term is not None and self.term["term_id"] == self.school["term_id"]

    @property
    def line(self) -> float:
        """The criterion of the school."""
        return float(str(self.school["criterion"]))


def facts_of(scope: Scope, school_id: str, term: str, letters: int) -> Facts:
    """The facts of one school (any if empty) and term (by key or name; the present if empty).

    Names of routines are cut to `letters`. `Refused` says which schools or terms there are.
    """
    schools = rows_of(ask.schools(scope))
    school = one_row(schools, school_id, ("school_id", "school_name"), "school")
    if school is None:
        raise Refused("There is no school in the current build.")
    frame = ask.terms(scope, str(school["school_id"]))
    terms = rows_of(frame)
    present = (
        str(school["term_id"]) if any(t["term_id"] == school["term_id"] for t in terms) else ""
    )
    chosen = one_row(terms, term or present, ("term_id", "title"), "term")
    upto = terms[: terms.index(chosen) + 1] if chosen else []
    routines = ask.routines(scope, str(school["school_id"]))
    names = [clipped(name, letters) for name in routines["name"]]
    routines = routines.assign(name=names, term_id=school["term_id"])
    return Facts(scope, school, chosen, tuple(upto[-_MOST_TERMS:]), routines)


def rows_of(frame: pd.DataFrame) -> list[Row]:
    """The rows of a table, each by the names of its columns."""
    return [*frame.to_dict("records")]


def one_row(rows: list[Row], wanted: str, columns: tuple[str, str], kind: str) -> Row | None:
    """The row that is named, or the last one when none is; None when there are no rows.

    `Refused` names those that are there.
    """
    if not wanted:
        return rows[-1] if rows else None
    said = wanted.strip().casefold()
    for row in rows:
        if said in (str(row[column]).casefold() for column in columns):
            return row
    known = ", ".join(f"{row[columns[1]]} ({row[columns[0]]})" for row in rows) or "none yet"
    raise Refused(f"There is no {kind} “{wanted}” in the current build. There is: {known}.")
