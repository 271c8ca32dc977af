"""Every query runs on tables of exactly the published shape, and classes come by name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from app.access import Reader, Scope, current_snapshot, scope_for
from app.queries import measures, room, school, steward, support, weeks
from app.queries.kept import by_name
from tests.app.contracts import contracts


@pytest.fixture(scope="module")
def team(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("support"))


@pytest.fixture(scope="module")
def teacher(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("teacher", "room-3"))


@pytest.fixture(scope="module")
def office(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("steward"))


def test_the_contracts_name_every_audience() -> None:
    assert {contract.audience for contract in contracts().values()} == {
        "school", "support", "steward", "room",
    }  # fmt: skip


@pytest.mark.parametrize(
    "query",
    [school.terms, school.routines, school.grades, school.breaks, school.rewordings,
     school.health, school.health_total, school.coaching, school.teaching],
)  # fmt: skip
def test_school_queries_run(team: Scope, query: Callable[..., pd.DataFrame]) -> None:
    assert isinstance(query(team, "quillbrook"), pd.DataFrame)


def test_measures_and_weeks_come_with_their_whole_row(team: Scope) -> None:
    row = {"value", "numerator_count", "denominator_count", "low", "high", "session_count",
           "sufficiency", "status", "is_withheld", "build_id"}  # fmt: skip
    for found in (
        measures.by_school(team, "quillbrook", "spring"),
        measures.by_grade(team, "quillbrook", "spring", "responsiveness"),
        measures.by_tier(team, "quillbrook", "spring"),
        measures.by_class(team, "room-1"),
        weeks.by_school(team, "quillbrook", "responsiveness"),
        weeks.by_grade(team, "quillbrook", "01", "responsiveness"),
        weeks.by_class(team, "room-1", "responsiveness"),
    ):
        assert not found.empty
        assert row <= set(found.columns)


def test_a_class_sees_the_middle_half_of_the_school_behind_it(team: Scope) -> None:
    found = weeks.by_class(team, "room-1", "responsiveness")
    assert found["band_low"].notna().any()
    assert not found.duplicated(["routine_id", "week_first_on"]).any()


def test_the_team_and_the_steward_can_read_every_table_of_theirs(
    team: Scope, office: Scope
) -> None:
    assert not support.offers(team, "quillbrook", "spring").empty
    assert not support.cycles(team, "quillbrook", "2026-06-19", 5).empty
    assert not support.visits(team, "quillbrook", "spring").empty
    assert not support.turn_checks(team, "quillbrook", "spring").empty
    assert not support.marks(team, "room-3").empty
    for query in (steward.files, steward.findings, steward.set_aside, steward.freshness):
        assert not query(office).empty
    assert not steward.completeness(office, "spring").empty


def test_what_is_watched_and_reviewed_can_be_read_too(team: Scope, teacher: Scope) -> None:
    for found in (
        support.offers_of_class(team, "room-3", "spring"),
        support.reviews(team, "room-3", "voice"),
        support.data_offers(team, "quillbrook", "spring"),
        support.draw_audits(team, "quillbrook", "spring"),
        support.agreement(team, "quillbrook", "spring"),
        support.observers(team, "quillbrook"),
        school.dependability(team, "quillbrook"),
        school.held(team, "quillbrook", "spring"),
        school.spread(team, "quillbrook", "spring", "responsiveness"),
        weeks.change_of_school(team, "quillbrook", "responsiveness"),
        weeks.change_of_class(team, "room-3", "responsiveness"),
        weeks.change_of_class(teacher, "room-3", "responsiveness"),
        room.offer_history(teacher, "voice"),
        room.data_offers(teacher),
        room.draw_audits(teacher, "spring"),
    ):
        assert not found.empty


def test_a_teacher_reads_her_room(teacher: Scope) -> None:
    for query in (room.card, room.turns, room.plan, room.teach_next, room.offers):
        assert set(query(teacher)["class_id"]) == {"room-3"}
    assert not room.lessons(teacher, "spring").empty
    assert not room.visits(teacher, "spring").empty


def test_classes_come_by_name_with_their_numbers_as_numbers(team: Scope) -> None:
    from app.access import fetch

    titles = "(values ('Room 10'), ('Room 2'), ('Annex'), ('Room 2 (Larks)')) as t(title)"
    found = fetch(team, "school", f"select title from {titles} order by {by_name('title')}")
    assert found["title"].to_list() == ["Annex", "Room 2", "Room 2 (Larks)", "Room 10"]
