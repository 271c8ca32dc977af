"""What the team decided about her class, in words for its teacher."""

from __future__ import annotations

from typing import Any

import pytest

from app.text import own_decisions as say
from app.text.places import unlinked
from tests.app.invented_decisions import own_decision_rows
from tests.app.text.codes import codes_of

ROWS: dict[str, Any] = {str(row["decision_id"]): row for row in own_decision_rows()}


def test_every_decision_has_words_for_her() -> None:
    codes = codes_of("room_decisions", "decision_code")
    assert set(say.DECIDED) == codes == set(say.IN_SHORT)


@pytest.mark.parametrize(
    ("decision", "said"),
    [
        (
            "decided-2",
            "On Wed 6 May the support team offered you a hand. It comes back to it on Wed 3 Jun.",
        ),
        (
            "decided-3",
            "On Wed 29 Apr the support team said: wait, and look again. "
            "The team’s day to come back to it was Wed 13 May.",
        ),
        (
            "decided-5",
            "On Wed 6 May it was written down that you would rather not. "
            "It rests until Wed 17 Jun, unless what is seen changes.",
        ),
        (
            "decided-6",
            "On Wed 6 May the support team closed it: it holds, or the help is done.",
        ),
    ],
)
def test_she_reads_what_was_decided_and_when_it_comes_back(decision: str, said: str) -> None:
    assert say.when_decided(ROWS[decision], 42) == said


def test_what_has_run_its_course_is_no_longer_open() -> None:
    still = {str(row["decision_id"]) for row in say.still_open(ROWS.values())}
    assert still == set(ROWS) - {"decided-0"}


def test_the_table_speaks_to_her_and_names_neither_a_writer_nor_the_teams_note() -> None:
    table = say.table([ROWS["decided-2"], ROWS["decided-5"]], {"turns": "Fair turns"})
    assert list(table["What"]) == ["A hand was offered", "You would rather not"]
    assert "Class" not in table.columns
    told = unlinked(table.to_csv())
    assert "support" not in told
    assert "booster" not in told
    assert {"decided_by", "note"}.isdisjoint(ROWS["decided-2"])
