"""Names and cells on paper fit their place and say what they leave out."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from app.text import brief, coach_page, sentences
from app.text.file_names import brief_name, coach_name, plain_name
from app.text.readings import Reading

SEEN = Reading(value=0.855, low=0.81, high=0.89, numerator=87, denominator=102, sufficiency="solid")


@pytest.mark.parametrize(
    ("title", "letters", "short"),
    [
        ("Autumn term", 10, "Autumn"),
        ("Autumn term", 4, "Aut"),
        ("Term 1", 10, "Term 1"),
        ("Term 1", 4, "T1"),
        ("Quarter 2026-3", 5, "Q63"),
        ("Hilary Term", 6, "Hilary"),
    ],
)
def test_a_term_keeps_as_much_of_its_name_as_fits(title: str, letters: int, short: str) -> None:
    assert brief.short_term(title, letters) == short


def test_a_long_name_ends_with_an_ellipsis_and_a_short_one_does_not() -> None:
    assert brief.clipped("Lining up", 9) == "Lining up"
    assert brief.clipped("Lining up again", 9) == "Lining u…"
    assert len(brief.clipped("x" * 300, 40)) == 40


def test_a_share_and_its_range_stand_apart_and_thin_says_so() -> None:
    thin = Reading(value=0.5, low=0.2, high=0.8, sufficiency="thin")
    cells = [brief.share_cells(got) for got in (SEEN, thin, Reading())]
    assert [tuple(cell.replace("\u00a0", " ") for cell in pair) for pair in cells] == [
        ("86 %", "81 to 89 %"), ("50 %", "too few looks"), ("–", ""),
    ]  # fmt: skip


def test_what_is_withheld_gives_no_number_and_its_reason_once() -> None:
    hidden = Reading(value=0.4321, numerator=4, denominator=9, is_withheld=True)
    assert brief.share_cells(hidden) == ("withheld", "")
    assert brief.given_cell(hidden) == "withheld"
    rows = [
        {"value": 0.4321, "is_withheld": True, "withheld_reason": reason}
        for reason in ("small_cell", "few_classes", "small_cell")
    ]
    assert brief.why_withheld(rows) == (
        "Withheld: fewer people than may be shown; too few classes to show."
    )
    assert brief.why_withheld([{"value": 0.4, "is_withheld": False}]) == ""


def test_under_a_withheld_headline_no_lesson_is_said_to_be_missing() -> None:
    hidden = Reading(is_withheld=True, withheld_reason="small_cell")
    assert sentences.taught_basis(hidden) == ""
    assert sentences.holds_basis(hidden) == ""
    assert sentences.taught_basis(Reading()) != ""


def test_the_day_on_paper_has_its_year() -> None:
    school = {
        "school_name": "Q", "school_id": "q", "class_count": 6, "pupil_count": 131,
        "as_of_on": date(2026, 5, 15), "week_number": None, "week_count": None,
    }  # fmt: skip
    assert brief.under(school, None) == "6 classes, 131 pupils · as of Friday 15 May 2026"


def test_routines_without_a_picture_are_named_or_counted() -> None:
    assert brief.not_pictured(["Lining up", "Arrival"], 0) == (
        "Nobody has looked yet: Lining up, Arrival."
    )
    assert brief.not_pictured(["a"] * 9, 3) == (
        "Nobody has looked yet at 9 other routines. 3 more routines on the dashboard, under By "
        "routine."
    )
    assert brief.not_pictured([], 0) == ""


def test_changes_are_listed_by_day_and_the_earlier_ones_counted() -> None:
    days = [(date(2026, 4, 10 + n), f"change {n}") for n in range(8)]
    said = coach_page.changed(reversed(days))
    assert said.startswith("What changed: 12 Apr change 2; 13 Apr change 3")
    assert said.endswith("17 Apr change 7; and 2 earlier changes.")
    assert coach_page.changed([]) == ""


def test_without_visits_the_page_says_since_when() -> None:
    visits = pd.DataFrame({"setting": [], "observed_on": []})
    row = {"class_title": "Room 3", "grade_code": "02", "session_count": 0}
    term = {"first_on": date(2026, 4, 13)}
    told = dict(coach_page.statement(row, {"setting": "support_room"}, term, visits, 0.8))
    assert told["When"] == "since Monday 13 April"
    assert told["Where"] == "support room"


@pytest.mark.parametrize(
    ("parts", "name"),
    [
        (("brief", "École du Pré", "t/../../x"), "brief-ecole-du-pre-t-x"),
        (("日本",), "page"),
        (("a" * 200,), "a" * 80),
    ],
)
def test_a_file_name_is_plain_letters(parts: tuple[str, ...], name: str) -> None:
    assert plain_name(*parts) == name


def test_files_are_named_after_what_they_hold() -> None:
    school = {"school_id": "quillbrook", "as_of_on": date(2026, 5, 15)}
    assert brief_name(school, None) == "brief-quillbrook-2026-05-15.pdf"
    term = {"title": "Spring term"}
    assert brief_name(school, term) == "brief-quillbrook-spring-term-2026-05-15.pdf"
    offer = {"class_title": "Room 7 (Hares)", "routine_id": "voice"}
    assert coach_name(offer, term) == "coach-room-7-hares-voice-spring-term.pdf"
