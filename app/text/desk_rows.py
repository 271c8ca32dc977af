"""Words of the steward's desk about rows that wait: decisions, corrections, lines."""

from __future__ import annotations

from collections.abc import Sequence

from app.text.desk import Row, first_up, whole
from app.text.numbers import counted, number

LET_IN_NOTE = (
    "Let rows in only after you have looked at them and found them right. Your name and the moment "
    "are kept beside each row, and a new build is needed before they count."
)


def held_sentence(found: Sequence[object], is_known: bool) -> str:
    """How many decisions wait for a person."""
    if not is_known:
        return "What waits cannot be told while a command is at work."
    if not found:
        return "No row waits for a person’s word at this moment."
    few = len(found) == 1
    return f"**{counted(len(found), 'decision')}** wait{'s' if few else ''} for you."


def more_held(hidden: int) -> str:
    """Said when only the first groups of rows are shown."""
    return f"{counted(hidden, 'more decision')} will be shown after these." if hidden else ""


def let_in_label(count: int, file_name: str) -> str:
    """The button that begins a decision."""
    return f"Let in {counted(count, 'row')} of {file_name}"


def sure_of_rows(count: int, most: int, who: str) -> str:
    """Asked before rows are let in."""
    first = f" (the first {number(most)} of them)" if count > most else ""
    return f"{counted(count, 'row')}{first} will count from the next build on, let in by {who}."


def to_correct(file_name: str, counts: Sequence[int]) -> str:
    """A file of which rows wait for a correction."""
    return f"**{file_name}**: {counted(sum(counts), 'row')} to correct"


def lines_up(found: Sequence[int]) -> str:
    """`Line 3`, at the start of a sentence."""
    return first_up(lines(found))


def held(told: Row) -> str:
    """Rows of one file that wait for the same reason."""
    rows = counted(whole(told, "count"), "row")
    why = f": {told['message']}" if told["message"] else ""
    return f"**{told['file_name']}**, {rows} ({lines(told['lines'])}){why}"


def lines(found: object) -> str:
    """`line 3`, `lines 3, 5 and 12 more`."""
    numbers = list(found) if isinstance(found, tuple | list) else []
    if not numbers:
        return "no line"
    first = ", ".join(number(one) for one in numbers[:6])
    rest = f" and {number(len(numbers) - 6)} more" if len(numbers) > 6 else ""
    return f"line{'' if len(numbers) == 1 else 's'} {first}{rest}"
