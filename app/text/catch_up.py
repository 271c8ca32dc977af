"""Words for writing down planned lessons afterwards."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from datetime import timedelta

import pandas as pd

from app.text.dates import as_date, weekday_day
from app.text.numbers import counted, in_words, number
from app.text.words import LESSON_KIND, spoken

Row = Mapping[Hashable, object]
MOST = 12
YES, NO = "It happened", "Called off"
NOT_SAID = (
    "Each is written down on the day it was planned for, as given in the room; minutes and steps "
    "stay empty. For anything else use your lessons sheet."
)


def of_this_week(slots: pd.DataFrame, as_of_on: object) -> pd.DataFrame:
    """The planned lessons that fell due in the week of the build, the latest first."""
    day = as_date(as_of_on)
    if day is None or slots.empty:
        return slots.head(0)
    monday = day - timedelta(days=day.weekday())
    due = slots["due_on"].map(as_date)
    return slots[due >= monday].sort_values(["due_on", "routine_name"], ascending=[False, True])


def slot_words(row: Row) -> str:
    """`Fri 15 May · Lining up, reminder`."""
    kind = spoken(row["lesson_kind"], LESSON_KIND)
    return f"{weekday_day(row['due_on'])} · {row['routine_name']}, {kind}"


def of_slot(answer: str, row: Row) -> str:
    """The same answer with what it is about, for those who hear a button alone."""
    return f"{answer}: {slot_words(row)}"


def whole_week(count: int) -> str:
    """The word on the button for all of them at once."""
    several = f"All {in_words(count).lower()} of this week" if count > 1 else "This one"
    return f"{several} happened: write {'them' if count > 1 else 'it'} down"


def waiting_note(records: Sequence[Mapping[str, str]]) -> str:
    """What was written down and does not count yet."""
    if not records:
        return ""
    given = sum(record.get("status") == "delivered" for record in records)
    off = len(records) - given
    parts = [f"{counted(given, 'lesson')} given"] if given else []
    parts += [f"{counted(off, 'lesson')} called off"] if off else []
    return (
        f"Written down, and counted from the next build on: {' and '.join(parts)}. The office "
        "takes files in and builds."
    )


def week_note(of_week: pd.DataFrame) -> str:
    """What stands open this week, before its chips."""
    return f"Open this week, {counted(len(of_week), 'lesson')}:" if len(of_week) else ""


def week_chips(of_week: pd.DataFrame) -> list[str]:
    """Each routine with how many of its lessons stand open this week, by name."""
    counts = of_week["routine_name"].value_counts().sort_index()
    return [f"{name} × {count}" if count > 1 else str(name) for name, count in counts.items()]


def later(open_count: int) -> str:
    """Said when not all of a term's open lines are shown."""
    rest = open_count - MOST
    return f"{number(rest)} earlier ones come up as you answer these." if rest > 0 else ""


def outcome(code: str, count: int) -> str:
    """What the tap did; `kept` names how many."""
    return OUTCOME.get(code, f"{counted(count, 'lesson')} written down. Thank you.")


OUTCOME = {
    "known": "This lesson was written down already, in another way. The first word stands.",
    "stopped": "It could not be written down just now; nothing was lost. Please tell the person "
    "who looks after Roundelay in your school.",
}
