"""What the team decided and what has moved, in words; and what a form answers."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date
from typing import Any

import pytest

from app.text import decisions as say
from app.text.numbers import NBSP
from app.text.places import unlinked
from ingest.contracts import load_contracts
from tests.app.invented_decisions import decision_rows
from tests.app.text.codes import codes_of

Row = dict[Hashable, Any]
ROUTINES = {"settle": "Settling", "turns": "Fair turns", "voice": "Voice", "line": "Lining up"}
ROWS: dict[str, Any] = {
    str(row["decision_id"]): row for row in decision_rows()["mart_offer_decisions"]
}


def plain(text: str) -> str:
    return unlinked(text).replace(NBSP, " ").replace("**", "")


def test_every_code_of_the_contract_and_of_the_table_has_its_words() -> None:
    codes = set(load_contracts()["offer_decisions"].field("decision").enum)
    assert set(say.DECISION) == codes == codes_of("mart_offer_decisions", "decision_code")
    moved = codes_of("mart_offer_decisions", "moved_code")
    assert {say.what_moved({**ROWS["decided-1"], "moved_code": one}) for one in moved}
    assert set(say.AT_HAND) < codes_of("mart_offer_decisions", "standing_code")


def test_an_old_action_says_when_and_what_moved_with_both_ranges() -> None:
    row = ROWS["decided-1"]
    assert say.action_name(row, ROUTINES) == "Room 1 · settling"
    assert say.when_decided(row) == (
        "On Wed 1 Apr we offered a hand. The day to come back was Wed 29 Apr."
    )
    assert plain(say.what_moved(row)) == (
        "Moved up: from 62 % (52 to 72 %, 6 visits) before to 84 % (74 to 94 %, 5 visits) since."
    )
    assert say.how_sure(row) == "The change lies between 5 points up and 39 points up."


def test_both_values_of_an_old_action_open_the_page_that_says_what_is_compared() -> None:
    address = "number?measure=since_decision&level=class&class=room-1&routine=settle&window=term"
    said = say.what_moved(ROWS["decided-1"])
    assert said.count(f"|{address}]]") == 2
    assert "[[62" in said
    assert "[[84" in said
    ended = {**ROWS["decided-6"], "before_moved_code": "moved_up", "before_then_value": 0.5}
    [line] = say.at_rest_lines([{**ended, "before_later_value": 0.75}], ROUTINES, 42)
    assert "measure=since_decision&level=class&class=room-6&routine=turns" in line


def test_too_early_says_how_little_was_seen() -> None:
    row = ROWS["decided-2"]
    assert plain(say.what_moved(row)).startswith("Too early to say: from 62 % (")
    assert say.how_sure(row) == ""
    none = {**row, "later_session_count": 0, "later_value": None}
    assert plain(say.what_moved(none)) == (
        "Too early to say: no visit since. Before it was 62 % (52 to 72 %, 6 visits)."
    )
    nobody = {**none, "then_value": None}
    assert plain(say.what_moved(nobody)) == "Too early to say: no visit yet."
    first = {**row, "then_value": None}
    assert plain(say.what_moved(first)).endswith("since; nobody had looked before.")


def test_what_rests_or_ended_is_told_in_a_line() -> None:
    ended = ROWS["decided-6"] | {
        "before_moved_code": "moved_up", "before_then_value": 0.58, "before_later_value": 0.81,
    }  # fmt: skip
    lines = say.at_rest_lines([ROWS["decided-5"], ended, ROWS["decided-1"]], ROUTINES, 42)
    assert [plain(line) for line in lines] == [
        "Room 5 · settling: on Wed 6 May the teacher would rather not. It rests until Wed 17 Jun, "
        "unless what is seen changes.",
        "Room 6 · fair turns: closed on Wed 6 May. Moved up meanwhile, from 58 % to 81 %.",
    ]


def test_what_was_written_down_says_that_it_waits() -> None:
    record = {"decision": "wait", "follow_up_on": "2026-06-05", "note": "After lunch"}
    assert plain(say.written_down(record, "Room 3 · voice")) == (
        "Room 3 · voice: Wait, and look again, come back on Fri 5 Jun. “After lunch” "
        "Written down, waiting for the next build."
    )
    assert plain(say.written_down({"decision": "close"})).startswith("It holds: close it. Written")


@pytest.mark.parametrize(
    ("days", "suggested"),
    [
        (21, date(2026, 6, 5)),
        (22, date(2026, 6, 8)),
        (23, date(2026, 6, 8)),
        (1, date(2026, 5, 18)),
    ],
)
def test_the_day_that_is_suggested_is_no_weekend(days: int, suggested: date) -> None:
    assert say.come_back_on(date(2026, 5, 15), days) == suggested


def test_the_meeting_is_today_and_in_the_invented_school_on_its_own_day() -> None:
    today = date(2026, 11, 28)
    assert say.decision_day({"is_demo": False, "as_of_on": "2026-05-15"}, today) == today
    assert say.decision_day({"is_demo": True, "as_of_on": "2026-05-15"}, today) == date(2026, 5, 15)


def test_what_is_not_right_is_said_with_what_to_do() -> None:
    said = say.not_right([("decision", "missing_value"), ("note", "too_long"), ("odd", "rule")])
    assert said.startswith("Choose what you decided. The note is longer than 300 letters.")
    assert "“odd”" in said
    assert said.endswith("What you filled in still stands here.")
