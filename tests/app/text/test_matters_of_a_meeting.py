"""Offers, observers, draws, records and change in words: what stands, why, what settles it."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date, timedelta

import pandas as pd
import pytest

from app.text import change, data_matters, offer_course, sentences, spread, watching
from app.text.numbers import NBSP
from app.text.offers import WHY_NOT, what_was_seen
from app.text.places import unlinked
from app.text.sentences import offers
from app.text.words import CHECK, WITHHELD
from tests.app.invented_watching import watching_rows
from tests.app.text.codes import codes_of

Row = dict[Hashable, object]
ROUTINES = {"settle": "Settling", "turns": "Fair turns", "voice": "Voice", "line": "Lining up"}
ROWS = watching_rows()


def plain(text: str) -> str:
    return unlinked(text).replace(NBSP, " ").replace("\u202f", " ")


@pytest.mark.parametrize(
    ("model", "column", "words"),
    [
        ("mart_offers", "why_not", WHY_NOT),
        ("mart_offer_reviews", "review_state", offer_course.REVIEW),
        ("mart_agreement", "status", watching.AGREED),
        ("mart_agreement", "measure_kind", watching.KIND),
        ("mart_observers", "reading_code", watching.READING),
        ("mart_observers", "drift_code", watching.DRIFT),
        ("mart_draw_audits", "verdict_code", data_matters.VERDICT),
        ("mart_draw_audits", "method", data_matters.METHOD),
        ("mart_class_spread", "spread_code", spread.SPREAD),
        ("mart_change_by_class", "signal_code", change.SIGNAL),
        ("mart_change_by_class", "trend_code", change.TREND),
        ("mart_change_by_class", "baseline_code", change.BEGAN),
        ("mart_turn_checks", "check_name", CHECK),
        ("mart_measures_by_class", "withheld_reason", WITHHELD),
    ],
)
def test_every_code_that_the_models_may_give_has_words(
    model: str, column: str, words: dict[str, str]
) -> None:
    assert codes_of(model, column) <= set(words)


def test_an_offer_says_since_when_it_stands_and_what_would_close_it() -> None:
    row: Row = {
        "state_code": "offer", "opened_on": date(2026, 5, 1), "review_count": 2,
        "closing_code": "back_at_line", "closing_session_count": 3, "closing_value": 0.86,
        "tested_count": 60, "adjusted_p": 0.03,
    }  # fmt: skip
    assert (
        offer_course.since_when(row)
        == "Open since the review of Friday 1 May, at 2 reviews so far."
    )
    assert plain(offer_course.closing(row)) == (
        "It would close after 3 more visits with 86 % or more on average."
    )
    assert "among the 60 lines of one review" in offer_course.against_luck(row)


@pytest.mark.parametrize(
    ("code", "visits", "value", "text"),
    [
        ("more_visits", 1, None, "1 more visit would be needed before anything can be said."),
        ("quiet_visits", 2, 0.8, "It is back at our line. 2 more visits without a run under it "
                                 "would close it."),
        ("back_at_line", 2, 1.2, "It closes when the visits since it was opened are back at our "
                                 "line on average."),
        (None, None, None, ""),
    ],
)  # fmt: skip
def test_what_would_settle_a_line_is_said(
    code: str | None, visits: int | None, value: float | None, text: str
) -> None:
    row: Row = {"closing_code": code, "closing_session_count": visits, "closing_value": value}
    assert offer_course.closing(row) == text


def test_a_chance_is_said_in_words_and_never_as_a_figure() -> None:
    row: Row = {"why_not": "by_chance", "tested_count": 176, "adjusted_p": 0.2143}
    said = offer_course.against_luck(row)
    assert "may well be luck" in said
    assert "0.2" not in said
    assert "21" not in said


def test_every_routine_without_an_offer_says_why() -> None:
    rows: list[Row] = [
        {"routine_id": "voice", "state_code": "none", "why_not": why, "value": 0.7,
         "session_count": 4, "measure_name": "responsiveness", "term_id": "spring",
         "class_id": "room-1"}
        for why in WHY_NOT
    ]  # fmt: skip
    table = offer_course.reasons_table(rows, ROUTINES)
    assert (table["Offer"].str.startswith("none: ")).all()
    assert "none: observers disagree: held until they see the same" in set(table["Offer"])
    assert table["Figure"].str.contains("number").all()


def test_an_offer_about_voices_speaks_of_voices() -> None:
    row: Row = {"value": 0.55, "numerator_count": 46, "denominator_count": 84, "session_count": 7}
    said = plain(what_was_seen({**row, "measure_name": "voice_match"}, "Voice"))
    assert "the voice level was the agreed one in **46 of 84** readings over 7 visits" in said
    assert "children did" not in said


@pytest.mark.parametrize(
    ("counts", "text"),
    [
        ((None, 0, 0), "How many offers of a hand are open is withheld."),
        ((1, None, 10), "**1** offer is open. How many of 10 rounds of coaching this year moved "
                        "what they were for is withheld."),
        ((0, None, None), "No offer of a hand is open. How many rounds of coaching there were is "
                          "withheld."),
    ],
)  # fmt: skip
def test_a_withheld_count_is_never_said_to_be_none(
    counts: tuple[int | None, int | None, int | None], text: str
) -> None:
    assert offers(*counts) == text
    assert sentences.offers is offers


def test_observers_are_told_apart_from_what_they_agree_on() -> None:
    rows = pd.DataFrame(ROWS["mart_agreement"])
    said = watching.agreement_sentence(rows)
    assert plain(said) == (
        "**8** of 36 visits this term were watched by two (22 %). Look together again at: ratings."
    )
    table = watching.agreement_table(rows)
    assert [unlinked(text) for text in table["Beyond chance"]] == ["0.69"] * 4
    assert table["Range"].to_list() == ["0.55 to 0.81"] * 4
    observers = watching.observers_table(pd.DataFrame(ROWS["mart_observers"]))
    assert observers["As measured"].to_list() == ["\u22124 to +8 points"] * 4


def test_how_many_visits_a_number_takes_is_told_with_what_it_rests_on() -> None:
    table = watching.dependability_table(pd.DataFrame(ROWS["mart_dependability"]))
    assert [unlinked(text) for text in table["After 6 visits"]] == ["0.75"] * 4
    assert "published of other instruments: an invented study 1999" in table["It rests on"][1]


def test_a_matter_of_the_records_is_apart_from_teaching_and_counts() -> None:
    lines = data_matters.lines(pd.DataFrame(ROWS["mart_data_offers"]), by_class=True)
    assert len(lines) == 8
    assert plain(lines[0]) == "Room 2: 5 of 20 lessons due lately have no entry"
    assert "window=last_20" in lines[0]


def test_an_audit_of_draws_asks_about_the_box() -> None:
    rows = pd.DataFrame(ROWS["mart_draw_audits"]).assign(class_title="Room 2")
    [line] = data_matters.audit_lines(rows)
    assert "a card may be lost or double (140 turns, as uneven by luck in 1 %" in plain(line)
    assert "in 5 of 6 draw boxes" in data_matters.audit_note(rows)


def test_a_school_matter_is_told_from_a_class_matter() -> None:
    rows = pd.DataFrame(ROWS["mart_class_spread"])
    said = spread.sentence(rows, ROUTINES)
    assert said.startswith("Classes differ beyond chance in: **Fair turns, Voice, Lining up**.")
    assert "the school’s matter" in spread.table(rows, ROUTINES)["In short"][0]
    assert spread.one(None) == "Too few classes have been visited to say whether they differ."


def test_too_few_visits_by_two_come_with_the_aim_and_a_next_step() -> None:
    rows = pd.DataFrame(ROWS["mart_agreement"])
    share = float(rows["double_watched_rate"][0])
    below = watching.aim_sentence(rows, share + 0.05)
    assert "watched by two: go together on a few of the next visits." in below
    assert watching.aim_sentence(rows, share).startswith("That is enough: the aim is ")
    assert watching.aim_sentence(rows.head(0), share) == "" == watching.aim_sentence(rows, None)
    assert watching.tells_note(0.8).endswith("“relied on” begins at 0.80.")


def test_nothing_is_said_to_have_moved_from_visits_of_a_term_that_is_held() -> None:
    rows = pd.DataFrame(ROWS["mart_change_by_school"])
    began = sorted(row["baseline_first_on"] for row in rows.to_dict("records"))
    assert change.sentence(rows, ROUTINES, began[0] - timedelta(days=1)) == change.sentence(
        rows, ROUTINES
    )
    assert change.sentence(rows, ROUTINES, began[-1]) == (
        "**Held**: Settling, Fair turns, Voice. Withheld: 1 routine."
    )
    told = change.table(rows, ROUTINES, "week", began[-1])["In short"].to_list()
    assert told == [change.HELD, change.HELD, change.HELD, "withheld"]
    [first, *_] = rows.to_dict("records")
    assert change.one(first, "week", began[-1]) == ""
    assert watching.held_in_terms([]) == ""
    said = watching.held_in_terms(["Winter term", "Spring term"])
    assert said.startswith("Observers did not see the same in Winter term and Spring term.")


def test_what_moved_is_told_only_after_a_test() -> None:
    rows = pd.DataFrame(ROWS["mart_change_by_school"])
    assert change.sentence(rows, ROUTINES) == (
        "**Moved up**: Settling. **About the same**: Fair turns. Too early to say: 1 routine. "
        "Withheld: 1 routine."
    )
    told = [change.one(row, "week") for row in rows.to_dict("records")]
    assert plain(told[0]).startswith(
        "Moved up since the new wording (5 Jan): the middle of 14 weeks"
    )
    assert told[2].startswith("Too early to say whether it has moved: 14 weeks since")
    assert told[3] == ""
    table = change.table(rows, ROUTINES, "week")
    assert table["In short"].to_list()[-1] == "withheld"
