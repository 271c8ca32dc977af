"""The first page of the brief: three answers, every routine and every grade by term."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from app.charts.palette import PAPER
from app.charts.range_bar import range_bar, range_words
from app.charts.terms import Terms, term_notes, term_words
from app.paper.facts import Facts
from app.paper.pieces import Piece, each_said, picture, said
from app.paper.room import Setting
from app.queries import measures
from app.queries import school as ask
from app.text import brief, matters, sentences
from app.text.readings import pick, pick_row
from app.text.routines import caption

_BAR = 215


def three_answers(facts: Facts) -> list[Piece]:
    """The three questions of the first screen, in the same sentences."""
    rows = measures.by_school(facts.scope, facts.school_id, facts.term_id)
    given = pick(rows, measure_name="dose", routine_id="*")
    held = pick(rows, measure_name="responsiveness", routine_id="*")
    row = pick_row(rows, measure_name="responsiveness", routine_id="*")
    return [
        {
            "question": "Is it being taught?",
            "sentence": said(sentences.taught(given)),
            "picture": picture(
                range_bar(given, None, PAPER), range_words("Lessons given", given), _BAR
            ),
            "notes": each_said([sentences.taught_basis(given)]),
        },
        {
            "question": "Does it hold when someone looks?",
            "sentence": said(sentences.holds(held)),
            "picture": picture(
                range_bar(held, facts.line, PAPER),
                range_words("In place", held, facts.line),
                _BAR,
            ),
            "notes": each_said([sentences.holds_basis(held, *matters.seen_classes(row))]),
        },
        _hand(facts),
    ]


def _hand(facts: Facts) -> Piece:
    found = ask.matters(facts.scope, facts.school_id, facts.term_id)
    coaching = ask.coaching(facts.scope, facts.school_id)
    grades = ask.grades(facts.scope, facts.school_id)
    routines = facts.routines
    return {
        "question": "Where would a hand be welcome?",
        "sentence": said(matters.offers_sentence(found, coaching)),
        "picture": None,
        "notes": each_said([matters.matter_note(found, grades, routines)]),
    }


def small_staves(facts: Facts, setting: Setting) -> dict[str, Piece]:
    """Every routine and every grade by term, all of one height that fills the page."""
    routines, more = _routines(facts, setting)
    grades, more_grades = _grades(facts, setting)
    height = setting.panel_height(len(routines), len(grades))

    def panels(several: list[Panel]) -> list[Piece]:
        return [_drawn(facts, setting, height, panel) for panel in several]

    return {
        "routines": {"panels": panels(routines), "more": each_said([more])},
        "grades": {"panels": panels(grades), "more": each_said([more_grades])},
    }


@dataclass(frozen=True)
class Panel:
    """A name, a quiet word under it, and its terms."""

    name: str
    note: str
    terms: Terms


def _routines(facts: Facts, setting: Setting) -> tuple[list[Panel], str]:
    """Those that were looked at, in the school's own order, and words for the others."""
    rows = measures.by_school_all_terms(facts.scope, facts.school_id, "responsiveness")
    listed = facts.routines.to_dict("records")
    terms = {
        str(row["routine_id"]): _terms(facts, setting, rows, str(row["routine_id"]))
        for row in listed
    }
    seen = [row for row in listed if _is_seen(terms[str(row["routine_id"])])]
    others = [row["name"] for row in listed if not _is_seen(terms[str(row["routine_id"])])]
    shown = seen[: setting.most_routines]
    has_notes = setting.has_notes and facts.is_current
    panels = [
        Panel(str(row["name"]), caption(row) if has_notes else "", terms[str(row["routine_id"])])
        for row in shown
    ]
    return panels, brief.not_pictured(others, len(seen) - len(shown))


def _grades(facts: Facts, setting: Setting) -> tuple[list[Panel], str]:
    """Youngest first, and words for those that the page cannot hold."""
    grades = ask.grades(facts.scope, facts.school_id).to_dict("records")
    rows = _all_grades(facts)
    panels = []
    for row in grades[: setting.most_grades]:
        own = rows[rows["grade_code"] == row["grade_code"]] if len(rows) else rows
        name = brief.clipped(row["name"], setting.letters)
        panels.append(Panel(name, "", _terms(facts, setting, own, "*")))
    return panels, brief.more_grades(len(grades) - len(panels))


def _all_grades(facts: Facts) -> pd.DataFrame:
    found = [
        measures.by_grade(facts.scope, facts.school_id, str(term["term_id"]), "responsiveness")
        for term in facts.terms
    ]
    return pd.concat(found) if found else pd.DataFrame()


def _terms(facts: Facts, setting: Setting, rows: pd.DataFrame, routine_id: str) -> Terms:
    letters = setting.term_letters(len(facts.terms))
    return [
        (
            brief.short_term(term["title"], letters),
            pick(rows, routine_id=routine_id, term_id=str(term["term_id"])),
        )
        for term in facts.terms
    ]


def _is_seen(terms: Terms) -> bool:
    return any(got.is_known or got.is_withheld for _, got in terms)


def _drawn(facts: Facts, setting: Setting, height: int, panel: Panel) -> Piece:
    has_sign = setting.has_sign(len(panel.terms))
    spec = term_notes(panel.terms, facts.line, PAPER, height, has_sign=has_sign)
    words = term_words(panel.name, panel.terms, facts.line)
    drawn = picture(spec, words, setting.panel_width)
    return {"name": panel.name, "note": said(panel.note), "picture": drawn}
