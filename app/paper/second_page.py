"""The second page of the brief: tiers, coaching, whose matter it is, records, numbers, cautions."""

from __future__ import annotations

from app.charts.bars import bars, bars_words
from app.charts.palette import PAPER
from app.paper.facts import Facts, Row
from app.paper.pieces import Piece, each_said, picture, table, table_of
from app.paper.room import Setting
from app.queries import measures
from app.queries import number as look
from app.queries import school as ask
from app.text import brief, cautions, health, matters, plain_tables, spread, tiers
from app.text.readings import Reading, pick, pick_row, reading

_BARS = 310
_MOST_TERMS, _TERM_LETTERS = 4, 12
# The columns of the screen's table that a page has room for.
_COACHING = ("Term", "Begun", "Moved up", "No clear rise", "Too early to say")


def tiers_given(facts: Facts) -> Piece:
    """Support given in each tier."""
    rows = measures.by_school(facts.scope, facts.school_id, facts.term_id)
    given = tiers.given(rows, measures.by_tier(facts.scope, facts.school_id, facts.term_id))
    said = bars_words("Given of those planned", given)
    return {
        "note": brief.TIERS_NOTE,
        "picture": picture(bars(given, PAPER), said, _BARS),
        "more": each_said([brief.given_words(given), tiers.not_shown(given)]),
    }


def coaching(facts: Facts) -> Piece:
    """Rounds of coaching by term and what became of them."""
    rows = look.coaching_by_term(facts.scope, facts.school_id).tail(_MOST_TERMS)
    rows = rows.assign(
        term_title=[brief.short_term(title, _TERM_LETTERS) for title in rows["term_title"]]
    )
    told = plain_tables.coaching_table(rows).replace(plain_tables.NOT_SHOWN, "withheld")
    if told.empty:
        return {"table": None, "more": each_said([brief.NO_COACHING])}
    return {
        "table": table_of(told[list(_COACHING)]),
        "more": each_said([brief.COACHING_NOTE]),
    }


def whose_matter(facts: Facts) -> Piece:
    """Class matter or school matter, for the routines together and where many share it."""
    rows = ask.spread(facts.scope, facts.school_id, facts.term_id, "responsiveness")
    names = dict(zip(facts.routines["routine_id"], facts.routines["name"], strict=True))
    found = ask.matters(facts.scope, facts.school_id, facts.term_id)
    grades = ask.grades(facts.scope, facts.school_id)
    return {
        "sentences": each_said(
            [spread.sentence(rows, names), matters.matter_note(found, grades, facts.routines)]
        ),
        "more": each_said([brief.BEYOND]),
    }


def data_health(facts: Facts) -> Piece:
    """What came in, and how much of what should be written down is there."""
    total = ask.health_total(facts.scope, facts.school_id).to_dict("records")[0]
    feeds = ask.health(facts.scope, facts.school_id)
    rows = measures.by_school(facts.scope, facts.school_id, facts.term_id)
    catalogue = ask.catalogue(facts.scope)
    titles = dict(zip(catalogue["measure_name"], catalogue["title"], strict=True))
    told = brief.records(rows, titles)
    return {
        "sentences": each_said([health.sentence(total), health.late_sentence(feeds)]),
        "table": table(["Records of this term", "There"], told) if told else None,
        "more": each_said([health.balance(feeds)]),
    }


def numbers(facts: Facts, setting: Setting) -> Piece:
    """The numbers behind the pictures, as two tables."""
    of_routines, hidden = _routine_rows(facts, setting)
    of_grades, more_hidden = _grade_rows(facts, setting)
    return {
        "routines": table(
            ["Routine", "Lessons given", "In place", "Range", "Before", "Visits"], of_routines
        )
        if of_routines
        else None,
        "grades": table(["Grade", "In place", "Range", "Before"], of_grades) if of_grades else None,
        "more": each_said([brief.TABLE_NOTE, brief.why_withheld([*hidden, *more_hidden])]),
    }


def _routine_rows(facts: Facts, setting: Setting) -> tuple[list[list[str]], list[Row]]:
    rows = measures.by_school(facts.scope, facts.school_id, facts.term_id)
    rows = rows[rows["measure_name"].isin(["dose", "responsiveness"])]
    told: list[list[str]] = []
    used: list[Row] = []
    for routine in facts.routines.head(setting.most_routines).to_dict("records"):
        own = rows[rows["routine_id"] == routine["routine_id"]]
        got = pick(own, measure_name="responsiveness")
        cells = [brief.given_cell(pick(own, measure_name="dose")), *brief.share_cells(got)]
        before = brief.before_cell(pick_row(own, measure_name="responsiveness"))
        told.append([str(routine["name"]), *cells, before, str(got.session_count)])
        used += own.to_dict("records")
    return told, used


def _grade_rows(facts: Facts, setting: Setting) -> tuple[list[list[str]], list[Row]]:
    rows = measures.by_grade(facts.scope, facts.school_id, facts.term_id, "responsiveness")
    rows = rows[rows["routine_id"] == "*"]
    told: list[list[str]] = []
    grades = ask.grades(facts.scope, facts.school_id).head(setting.most_grades)
    for grade in grades.to_dict("records"):
        row = pick_row(rows, grade_code=str(grade["grade_code"]))
        name = brief.clipped(grade["name"], setting.letters)
        cells = brief.share_cells(Reading() if row is None else reading(row))
        told.append([name, *cells, brief.before_cell(row)])
    return told, [*rows.to_dict("records")]


def care(is_demo: bool) -> list[list[list[Piece]]]:
    """The cautions in two columns; that data are invented is said where they are."""
    told = [text for text in cautions.EVERY if text != cautions.INVENTED]
    told = [*told, cautions.INVENTED] if is_demo else told
    return [each_said(told[:3]), each_said(told[3:])]
