"""Sentences carry the number, its range and its counts, and say plainly when there is none."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import UTC, datetime

import pandas as pd
import pytest

from app.text import dates, matters, offers, sentences
from app.text.numbers import NBSP
from app.text.places import unlinked
from app.text.readings import Reading
from app.text.words import grade_list, standing

SEEN = Reading(0.79, 0.76, 0.82, 3082, 3902, 214, 3902, "solid", "unclear")


def plain(text: str) -> str:
    return text.replace(NBSP, " ").replace("\u202f", " ")


def test_the_dose_sentence_tells_both_ends() -> None:
    dose = Reading(0.82, 0.82, 0.88, 612, 746, 746, 746, "solid", "none")
    assert plain(sentences.taught(dose)) == (
        "**82 %** of the lessons planned so far have been given."
    )
    assert plain(sentences.taught_basis(dose)) == (
        "612 of 746. If every missing log was a lesson given: 88 %."
    )


def test_what_holds_is_told_with_range_and_visits() -> None:
    assert plain(sentences.holds_basis(SEEN, 21, 22)) == (
        "76 to 82 % · 214 visits · 21 of 22 classes seen at least 3 times · "
        "too close to our line to say"
    )


def test_classes_are_not_counted_where_their_count_is_withheld() -> None:
    assert plain(sentences.holds_basis(SEEN, None, 22)) == (
        "76 to 82 % · 214 visits · too close to our line to say"
    )
    assert matters.seen_classes({"seen_class_count": None, "class_count": 22}) == (None, 22)


@pytest.mark.parametrize(("shown", "told"), [(None, "many of the classes"), (3, "3 of 4 classes")])
def test_a_matter_says_many_where_the_count_is_withheld(shown: int | None, told: str) -> None:
    row = {
        "school_id": "s", "term_id": "t", "matter_code": "grade", "grade_code": "02",
        "routine_id": "line", "shown_class_count": shown, "class_count": 4,
    }  # fmt: skip
    grades = pd.DataFrame([{"grade_code": "02", "name": "Grade 2"}])
    routines = pd.DataFrame([{"routine_id": "line", "name": "Lining up"}])
    note = unlinked(plain(matters.matter_note(pd.DataFrame([row]), grades, routines)))
    assert note.startswith(f"Grade 2, lining up: {told} show it, so look at the timetable")


def test_too_few_looks_and_none_are_said() -> None:
    thin = Reading(0.5, 0.2, 0.8, 10, 20, 1, 20, "thin", "none")
    assert "too few looks" in sentences.holds(thin)
    assert sentences.holds(Reading()) == "Nobody has looked yet this term."
    assert standing(thin) == "too little to say"


def test_a_withheld_number_says_why_and_never_shows() -> None:
    held = Reading(0.5, is_withheld=True, withheld_reason="complementary")
    assert not held.is_known
    assert sentences.measured(held, "share") == (
        "withheld: so that another withheld number cannot be worked out"
    )


@pytest.mark.parametrize(
    ("counts", "text"),
    [
        ((0, 0, 0), "No offer of a hand is open."),
        ((1, 0, 0), "**1** offer is open."),
        ((4, 3, 5), "**4** offers are open. Of 5 rounds of coaching this year, **3** moved "
                    "what they were for."),
    ],
)  # fmt: skip
def test_offers_are_said_as_counts(counts: tuple[int, int, int], text: str) -> None:
    assert sentences.offers(*counts) == text


def test_an_offer_names_routine_counts_range_and_its_own_past() -> None:
    row: dict[Hashable, object] = {
        "value": 0.6, "low": 0.52, "high": 0.68, "numerator_count": 58, "denominator_count": 96,
        "session_count": 6, "day_count": 4, "observer_count": 2, "previous_value": 0.74,
        "previous_sufficiency": "usable", "sureness": "likely_below",
        "reason_codes": "below_line;lasting",
    }  # fmt: skip
    said = plain(offers.what_was_seen(row, "Voice to fit the task"))
    assert "**58 of 96** looks over 6 visits: 60 % (52 to 68 %)" in said
    assert "14 points down on the term before (74 %)" in said
    assert offers.how_sure(row) == "6 visits, on 4 days, by 2 observers. Probably under our line."
    assert "The teacher may decline." in offers.what_might_help(row)
    assert " and " in offers.signs(row)


def test_a_thin_past_is_not_laid_beside() -> None:
    row: dict[Hashable, object] = {"value": 0.6, "session_count": 3, "previous_value": 0.9}
    row["previous_sufficiency"] = "thin"
    assert "term before" not in offers.what_was_seen(row, "Arrival")


def test_dates_are_written_as_people_write_them() -> None:
    assert dates.day("2026-05-15") == "Friday 15 May"
    assert dates.short_day(pd.Timestamp("2026-05-04")) == "4 May"
    assert dates.day(pd.NaT) == "no date yet"


def test_an_old_build_is_said_to_be_old_after_three_days() -> None:
    built = datetime(2026, 5, 15, 7, 10, tzinfo=UTC)
    assert dates.age_note(built, datetime(2026, 5, 17, 7, 10, tzinfo=UTC)) == ""
    assert dates.age_note(built, datetime(2026, 5, 18, 7, 10, tzinfo=UTC)) == (
        "Last built 3 days ago."
    )


@pytest.mark.parametrize(
    ("codes", "text"),
    [
        ("KG", "Kindergarten"),
        ("01", "Grade 1"),
        ("02;03", "Grades 2 and 3"),
        ("KG;01", "Kindergarten and Grade 1"),
        (None, ""),
    ],
)
def test_grades_are_said_in_words(codes: str | None, text: str) -> None:
    assert grade_list(codes) == text


def test_no_matter_is_said_too() -> None:
    none = pd.DataFrame({"matter_code": ["offers"], "grade_code": ["*"], "routine_id": ["*"]})
    names = pd.DataFrame({"grade_code": ["01"], "name": ["Grade 1"]})
    routines = pd.DataFrame({"routine_id": ["line"], "name": ["Lining up"]})
    assert matters.matter_chips(none, names, routines) == [
        "school matter: none",
        "grade matter: none",
    ]
