"""The coach's page: one class and routine with an open offer, against its own past. One page A4."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import pandas as pd

from app.access import Refused, Scope, Snapshot
from app.charts.palette import PAPER
from app.charts.sides import sides, sides_words
from app.charts.stave import stave, stave_words
from app.charts.stave_looks import class_changes, look_of_year, spans
from app.paper import press
from app.paper.facts import Facts, Row, facts_of
from app.paper.pieces import Piece, each_said, picture, said, table_of
from app.queries import measures, support, weeks
from app.queries import number as look
from app.queries import school as ask
from app.text import brief, cautions, coach_page, fidelity, offer_course, offers, plain_tables
from app.text.dates import as_date

PAGES = 1
_TEMPLATE = "coach"
_LETTERS = 60
# The columns of the screen's tables that a page has room for.
_REVIEW = ("Review", "What it found", "Figure then", "Visits then", "How sure")
_ROUND = ("Began", "Routine", "Before", "Since", "What became of it")
_WIDE, _NARROW = 680, 300


@dataclass(frozen=True)
class Setting:
    """Size of type (points), height of the stave (pixels), and the longest tables."""

    text_points: float
    stave_height: int
    most_rounds: int
    most_reviews: int
    most_decisions: int


SETTINGS = (
    Setting(9.4, 150, 4, 6, 4),
    Setting(9.0, 120, 3, 4, 3),
    Setting(8.6, 100, 3, 3, 3),
    Setting(8.2, 84, 2, 2, 2),
    Setting(7.8, 70, 1, 1, 1),
    Setting(7.5, 60, 1, 1, 1),
)


def printed(scope: Scope, snapshot: Snapshot, school_id: str, term: str, offer_id: str) -> bytes:
    """The page of one open offer as a tagged PDF; `Refused` when there is none of that name."""
    facts = facts_of(scope, school_id, term, _LETTERS)
    row = _open_offer(facts, offer_id)
    told: dict[str, Any] = {}
    for setting in SETTINGS:
        told = contents(facts, row, setting, snapshot)
        if press.page_count(_TEMPLATE, told) == PAGES:
            return press.pressed(_TEMPLATE, told, snapshot.built_at)
    raise press.TooLong("This page does not fit one sheet.")


def _open_offer(facts: Facts, offer_id: str) -> Row:
    rows = support.offers(facts.scope, facts.school_id, facts.term_id)
    is_open = (rows["state_code"] == "offer") & (rows["level_code"] == "class")
    is_open |= rows["is_to_consider"]
    for row in rows[is_open & (rows["offer_id"] == offer_id)].to_dict("records"):
        return row
    raise Refused("No offer of that name is open.")


def contents(facts: Facts, row: Row, setting: Setting, snapshot: Snapshot) -> dict[str, Any]:
    """Everything the page says, in one setting."""
    listed = facts.routines.to_dict("records")
    routine: Row = next((one for one in listed if one["routine_id"] == row["routine_id"]), {})
    name = str(routine.get("name") or row["routine_id"])
    term = facts.term or {}
    return {
        "title": coach_page.title(row, name, term),
        "heading": coach_page.heading(row, name),
        "kind": coach_page.KIND,
        "under": coach_page.under(facts.school, term),
        "mark": brief.INVENTED if snapshot.is_demo else "",
        "foot": brief.foot(snapshot.build_id, facts.school),
        "points": setting.text_points,
        "line": facts.line,
        "lead": said(offers.what_was_seen(row, name)),
        "statement": _statement(facts, row, {**routine, "name": name}, term),
        "stave": _stave(facts, row, name, setting),
        "changed": each_said([coach_page.changed(_changes(facts, row))]),
        **_sides(facts, row),
        "why": each_said(coach_page.why_here(row)),
        "help": each_said([offers.what_might_help(row)]),
        "closing": each_said([coach_page.closing(row)]),
        "tried": _tried(facts, row, setting),
        "reviews": _reviews(facts, row, setting),
        "fill_in": list(coach_page.FILL_IN),
        "follow_up": coach_page.follow_up(row),
        "care": each_said([cautions.SHORT, cautions.LINE, cautions.WAYS, coach_page.PRIVATE]),
    }


def _statement(facts: Facts, row: Row, routine: Row, term: Row) -> Piece:
    visits = support.visits(facts.scope, facts.school_id, facts.term_id)
    own = visits[
        (visits["class_id"] == row["class_id"])
        & (visits["routine_id"] == row["routine_id"])
        & visits["is_scored"]
    ]
    told = coach_page.statement(row, routine, term, own, facts.line)
    return {"rows": [[name, said(text)] for name, text in told]}


def _stave(facts: Facts, row: Row, name: str, setting: Setting) -> Piece:
    rows = weeks.by_class(facts.scope, row["class_id"], row["measure_name"])
    rows = rows[rows["routine_id"] == row["routine_id"]]
    changed = _changes(facts, row)
    pauses = spans(ask.breaks(facts.scope, facts.school_id))
    terms = pd.DataFrame(list(facts.terms))
    drawn = look_of_year(
        facts.line, pauses, terms, changed, is_first=True, is_last=True, height=setting.stave_height
    )
    spec = stave(rows, replace(drawn, palette=PAPER), as_date(terms["last_on"].max()))
    return picture(spec, stave_words(name, rows, facts.line), _WIDE)


def _changes(facts: Facts, row: Row) -> list[tuple[date, str]]:
    marks = support.marks(facts.scope, row["class_id"])
    return class_changes(marks, row["routine_id"], has_shared=True)


def _sides(facts: Facts, row: Row) -> Piece:
    rows = measures.by_class(facts.scope, row["class_id"])
    rows = rows[(rows["routine_id"] == row["routine_id"]) & (rows["term_id"] == facts.term_id)]
    several, weakest = fidelity.sides_of(rows), fidelity.weakest_of(rows)
    drawn = picture(sides(several, weakest, PAPER), sides_words(several, weakest), _NARROW)
    return {"sides": drawn, "lowest": each_said([coach_page.lowest(weakest)])}


def _tried(facts: Facts, row: Row, setting: Setting) -> Piece:
    """What the team decided, and the rounds of coaching, each against what was before."""
    return {"decided": _decided(facts, row, setting), "rounds": _rounds(facts, row, setting)}


def _decided(facts: Facts, row: Row, setting: Setting) -> list[list[Piece]]:
    rows = support.decisions_of_class(facts.scope, row["class_id"], "*")
    names = dict(zip(facts.routines["routine_id"], facts.routines["name"], strict=True))
    return each_said(coach_page.decided(rows, names, setting.most_decisions))


def _rounds(facts: Facts, row: Row, setting: Setting) -> Piece:
    rows = look.cycles_of_class(facts.scope, row["class_id"], "*")
    names = dict(zip(facts.routines["routine_id"], facts.routines["name"], strict=True))
    told = plain_tables.cycles_table(rows.head(setting.most_rounds), names)
    if told.empty:
        return {"table": None, "more": each_said([coach_page.NO_COACHING])}
    more = coach_page.tried_before(rows, len(told))
    return {
        "table": table_of(told[list(_ROUND)]),
        "more": each_said([more]),
    }


def _reviews(facts: Facts, row: Row, setting: Setting) -> Piece | None:
    rows = support.reviews(facts.scope, row["class_id"], row["routine_id"])
    told = offer_course.reviews_table(rows.head(setting.most_reviews))
    return None if told.empty else table_of(told[list(_REVIEW)])
