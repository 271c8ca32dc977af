"""The principal's brief: two pages A4, whatever the school holds."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from app.access import Scope, Snapshot
from app.paper import first_page, press, second_page
from app.paper.facts import Facts, facts_of
from app.paper.pieces import each_said
from app.paper.room import SETTINGS, Setting
from app.queries import school as ask
from app.text import brief

PAGES = 2
_TEMPLATE = "brief"


def contents(facts: Facts, setting: Setting, snapshot: Snapshot) -> dict[str, Any]:
    """Everything the two pages say, in one setting."""
    return {
        **_frame(facts, setting, snapshot.build_id, snapshot.built_at, snapshot.is_demo),
        "answers": first_page.three_answers(facts),
        **first_page.small_staves(facts, setting),
        "columns": setting.columns,
        "tiers": second_page.tiers_given(facts),
        "coaching": second_page.coaching(facts),
        "matter": second_page.whose_matter(facts),
        "health": second_page.data_health(facts),
        "numbers": second_page.numbers(facts, setting),
        "care": second_page.care(snapshot.is_demo),
    }


def _frame(
    facts: Facts, setting: Setting, build_id: str, built_at: datetime, is_demo: bool
) -> dict[str, Any]:
    return {
        "title": brief.title(facts.school, facts.term),
        "heading": brief.heading(facts.term),
        "school": brief.clipped(facts.school["school_name"], 110),
        "under": brief.under(facts.school, facts.term),
        "mark": brief.INVENTED if is_demo else "",
        "foot": brief.foot(build_id, facts.school),
        "definitions": each_said(
            [brief.definitions(ask.catalogue(facts.scope)), brief.made(build_id, built_at)]
        ),
        "picture_note": brief.PICTURE_NOTE,
        "grades_note": brief.GRADES_NOTE,
        "line": facts.line,
        "points": setting.text_points,
        "setting": setting.name,
    }


def fitted(scope: Scope, snapshot: Snapshot, school_id: str, term: str) -> dict[str, Any]:
    """The contents in the roomiest setting that keeps to two pages and loses no routine."""
    for setting in SETTINGS:
        facts = facts_of(scope, school_id, term, setting.letters)
        is_last = setting is SETTINGS[-1]
        if len(facts.routines) > setting.most_routines and not is_last:
            continue
        told = contents(facts, setting, snapshot)
        if press.page_count(_TEMPLATE, told) == PAGES:
            return told
    raise press.TooLong("The brief does not fit two pages.")


def printed(scope: Scope, snapshot: Snapshot, school_id: str = "", term: str = "") -> bytes:
    """The brief as a tagged PDF. `Refused` when there is no such school or term."""
    told = fitted(scope, snapshot, school_id, term)
    return press.pressed(_TEMPLATE, told, snapshot.built_at)
