"""The feeds are the public interface: these columns, in this order, described for a clerk."""

from __future__ import annotations

import re

import pytest

from ingest.contracts import Contract, Field, load_contracts
from ingest.contracts.model import VOIDED

CONTRACTS = load_contracts()
EVERY = pytest.mark.parametrize("contract", CONTRACTS.values(), ids=list(CONTRACTS))
PUBLIC = {
    "schools": "school_id name parent_id",
    "classes": "class_id school_id title grades session_pattern school_year",
    "people": "person_id role given_name family_name",
    "memberships": "class_id person_id role begin_on end_on is_primary share is_draw_eligible",
    "terms": "term_id school_id kind title parent_term_id first_on last_on",
    "school_days": "school_id day_on day_kind applies_to label lost_minutes",
    "routines": "routine_id version name expectation setting tier kind expected_voice_level "
    "target_seconds grades valid_from_on valid_to_on accepted_alternatives",
    "routine_steps": "routine_id version step_number text is_critical",
    "teaching_plan": "plan_id plan_version school_id class_id grade routine_id lesson_kind "
    "window_first_on window_last_on planned_lessons planned_minutes_each",
    "routine_lessons": "lesson_id class_id routine_id setting taught_on started_at_local minutes "
    "lesson_kind mode practised_in taught_by is_substitute pupils_present steps_done status "
    "cancel_reason entered_at entered_by note voided",
    "participation_draws": "draw_id class_id drawn_on drawn_at_local sequence_number cycle_number "
    "method pupil_id outcome wait_seconds eligible_count context entered_at voided",
    "observation_sessions": "observation_id class_id observer_id pair_id observed_on "
    "started_at_local minutes_observed minutes_instruction setting activity routine_id "
    "expected_voice_level interval_seconds pupils_present taught_by_role purpose routine_version "
    "feedback_at voided",
    "observation_rows": "observation_id row_number row_type code value step_number target_slot "
    "at_seconds voided",
    "coaching_events": "event_id cycle_id class_id coach_id routine_id event_on event_kind phase "
    "minutes goal_measure goal_value start_options chosen_start_on observation_id outcome voided",
    "offer_decisions": "decision_id class_id routine_id offer_id decision decided_on follow_up_on "
    "decided_by note entered_at voided",
    "support_plans": "support_id pupil_id tier support_kind begin_on end_on sessions_per_week "
    "minutes_each next_review_on voided",
    "support_checks": "check_id support_id checked_on checked_by method sessions_planned "
    "sessions_delivered steps_done steps_applicable minutes_delivered not_delivered_reason voided",
    "family_practice": "class_id routine_id week_first_on families_asked families_reported voided",
}


def test_there_are_these_feeds_and_no_others() -> None:
    assert set(CONTRACTS) == set(PUBLIC)


@EVERY
def test_a_feed_has_its_public_columns_in_their_order(contract: Contract) -> None:
    assert list(contract.field_names) == PUBLIC[contract.name].split()


@EVERY
def test_every_column_is_described_and_has_an_example(contract: Contract) -> None:
    for field in contract.fields:
        assert field.title, field.name
        assert field.description.endswith("."), field.name
        assert field.example, field.name


@EVERY
def test_a_feed_is_loaded_after_those_that_it_refers_to(contract: Contract) -> None:
    for key in contract.foreign_keys:
        other = CONTRACTS[key.resource]
        assert other is contract or other.load_order < contract.load_order


def test_every_list_of_grades_is_the_same() -> None:
    lists = {one.item_enum or one.enum for one in _grade_fields()}
    aliases = {tuple(sorted(one.alias.items())) for one in _grade_fields()}

    assert len(_grade_fields()) == 3
    assert len(lists) == len(aliases) == 1
    assert {"KG", "01", "13", "Other"} <= set(*lists)


def test_the_calendar_knows_the_same_grades() -> None:
    [rule] = [one for one in CONTRACTS["school_days"].rules if one.name == "applies_to_nobody"]
    codes = _grade_fields()[0].item_enum or _grade_fields()[0].enum

    assert set(re.findall(r"'([^']+)'", rule.sql)) == {"*", *codes}


def test_the_rule_about_codes_of_a_row_type_knows_every_code_and_type() -> None:
    contract = CONTRACTS["observation_rows"]
    [rule] = [one for one in contract.rules if one.name == "code_does_not_fit_row_type"]
    known = {*contract.field("code").enum, *contract.field("row_type").enum}

    # The last type needs no name: it is what is left.
    assert set(re.findall(r"'([^']+)'", rule.sql)) == known - {"product"}


def test_what_can_be_withdrawn_says_so_in_its_last_column() -> None:
    for contract in CONTRACTS.values():
        is_sent_by_classrooms = contract.group in ("classroom", "supports")
        assert contract.can_void == is_sent_by_classrooms
        assert (contract.field_names[-1] == VOIDED) == is_sent_by_classrooms


def test_supports_have_no_place_for_free_text() -> None:
    for contract in CONTRACTS.values():
        if contract.group != "supports":
            continue
        open_text = [one for one in contract.fields if _is_open(one)]
        assert open_text == []
        assert not contract.free_text


def test_only_the_people_feed_holds_names() -> None:
    private = {one.name: [f.name for f in one.private_fields] for one in CONTRACTS.values()}

    assert {feed: names for feed, names in private.items() if names} == {
        "people": ["given_name", "family_name"]
    }


def _grade_fields() -> list[Field]:
    return [
        field
        for contract in CONTRACTS.values()
        for field in contract.fields
        if field.name in ("grade", "grades")
    ]


def _is_open(field: Field) -> bool:
    return field.type == "string" and not (field.is_key or field.enum or field.pattern)
