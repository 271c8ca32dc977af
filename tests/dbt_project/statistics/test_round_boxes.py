"""The boxes of rounds: who was there when, turns for all, turns over, and what is certain."""

from __future__ import annotations

from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.statistics.audit_worlds import FOUR, Chances, chances_of

# Two children, both there on both days, two turns: only one end. Then seven turns among three.
WHOLE: Chances = [(1, 1, 0, 1), (1, 1, 1, 0), (1, 2, 0, 0), (1, 2, 1, 1)]
SEVEN: Chances = [(1, 1, 0, 7), (1, 1, 1, 0), (1, 1, 2, 0)]
# As WHOLE, but child 1 is away on the second day.
PART: Chances = [(1, 1, 0, 1), (1, 1, 1, 0), (1, 2, 0, 1)]


def _asked(columns: str, *classes: Chances) -> list[tuple[object, ...]]:
    boxes = macros()["round_boxes"]("chances")
    query = f"select * from (with {boxes} select {columns}) as asked order by all"
    return table(query, chances=chances_of(classes))


def test_presence_has_a_bit_for_each_sitting_at_which_the_child_was_there() -> None:
    found = _asked("audit_id, box_id, pupil_id, presence from cards", WHOLE, PART, FOUR)
    assert found == [
        (0, 1, 0, 3), (0, 1, 1, 3), (1, 1, 0, 3), (1, 1, 1, 1),
        (2, 1, 0, 1), (2, 1, 1, 1), (2, 1, 2, 1), (2, 1, 3, 1),
        (2, 2, 0, 1), (2, 2, 1, 1), (2, 2, 3, 1),
    ]  # fmt: skip


def test_a_box_is_certain_when_all_are_there_and_turns_come_out_even() -> None:
    columns = "audit_id, box_id, box_number, last_sitting, turn_count, pupil_count, is_certain"
    assert _asked(f"{columns} from boxes", WHOLE, PART, FOUR, SEVEN) == [
        (0, 1, 1, 2, 2, 2, True),
        (1, 1, 2, 2, 2, 2, False),
        (2, 1, 3, 1, 2, 4, False),
        (2, 2, 4, 1, 2, 3, False),
        (3, 1, 5, 1, 7, 3, False),
    ]


def test_turns_are_split_into_those_for_all_and_those_over() -> None:
    columns = "box_number, last_sitting, sitting, full_count, rest_count"
    assert _asked(f"{columns} from shares", WHOLE, SEVEN, PART) == [
        (1, 2, 1, 0, 1), (1, 2, 2, 0, 1), (2, 1, 1, 2, 1), (3, 2, 1, 0, 1), (3, 2, 2, 1, 0),
    ]  # fmt: skip


def test_pupils_are_numbered_through_all_classes() -> None:
    found = _asked("pupil_number, audit_id, pupil_id, turn_count from pupils", WHOLE, SEVEN)
    assert found == [(1, 0, 0, 1), (2, 0, 1, 1), (3, 1, 0, 7), (4, 1, 1, 0), (5, 1, 2, 0)]
