"""What the team decided and what has moved since, in words; and what a form says back."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from datetime import date, timedelta

import pandas as pd

from app.text import exact
from app.text.dates import as_date, day, weekday_day
from app.text.numbers import counted, figure, missing, percent, percent_range
from app.text.plain_numbers import counted_link
from app.text.readings import Reading

Row = Mapping[Hashable, object]
DECISION = {
    "offer": "We offer a hand",
    "wait": "Wait, and look again",
    "close": "It holds: close it",
    "decline": "The teacher would rather not",
}
_DECIDED = {
    "offer": "we offered a hand",
    "wait": "we said: wait and look again",
    "close": "we closed it",
    "decline": "the teacher would rather not",
}
_MOVED = {
    "moved_up": "**Moved up**",
    "moved_down": "**Moved down**",
    "same": "**No clear change**",
    "early": "**Too early to say**",
}
# What stands among the old actions with a place of its own; the others are told in a line.
AT_HAND = ("due", "under_way", "waiting")
COMPARED = (
    "Before: the newest visits up to the day it was decided, six at most. Since: those after it. "
    "Moved means that the whole range of the change lies on one side of zero."
)
TEACHER_SEES = (
    "The class’s teacher reads the decision, its days and what has moved after the next build; "
    "your note and who wrote it down stay with the team. Tell her first."
)
BUTTON = "Write it down"
WRITTEN = "Written down; it shows as decided after the next build."
NOTHING_YET = "Nothing has been decided yet this year. What you decide below stands here next time."
DECIDE_BELOW = "It has come back: decide below, with the offer."
NEEDED_FOR = "The day counts for a hand and for waiting."
NOT_RIGHT = {
    ("decision", "missing_value"): "Choose what you decided.",
    ("follow_up_on", "missing_value"): "Choose the day on which you come back to it.",
    ("note", "too_long"): "The note is longer than 300 letters. Shorten it a little.",
    ("note", "formula_in_cell"): "A note cannot begin with an equals sign.",
    ("note", "odd_character"): "The note holds a sign that cannot be written. Type it once more.",
}
_KEPT_HERE = "Nothing was written down. What you filled in still stands here."


def action_name(row: Row, routines: Mapping[str, str]) -> str:
    """`Room 3 · voice to fit the task`."""
    routine = routines.get(str(row["routine_id"]), str(row["routine_id"]))
    return f"{row['class_title']} · {routine[:1].lower()}{routine[1:]}"


def when_decided(row: Row) -> str:
    """What was decided on which day, and when the team comes back to it."""
    said = f"On {weekday_day(row['decided_on'])} {_DECIDED[str(row['decision_code'])]}"
    if missing(row.get("follow_up_on")):
        return f"{said}."
    is_due = str(row["standing_code"]) == "due"
    word = "The day to come back was" if is_due else "Come back to it on"
    return f"{said}. {word} {weekday_day(row['follow_up_on'])}."


def what_moved(row: Row) -> str:
    """What has moved since, with both values, their ranges and what they rest on."""
    said = _MOVED[str(row["moved_code"])]
    then, later = _side(row, "then"), _side(row, "later")
    if not figure(row["later_session_count"]):
        return (
            f"{said}: no visit since. Before it was {then}." if then else f"{said}: no visit yet."
        )
    if not then:
        return f"{said}: {later} since; nobody had looked before."
    return f"{said}: from {then} before to {later} since."


def _side(row: Row, side: str) -> str:
    value = figure(row[f"{side}_value"])
    if value is None:
        return ""
    ends = percent_range(figure(row[f"{side}_low"]), figure(row[f"{side}_high"]))
    visits = counted(figure(row[f"{side}_session_count"]), "visit")
    return f"{_opens(percent(value), row)} ({f'{ends}, ' if ends else ''}{visits})"


def _opens(text: str, row: Row) -> str:
    """Text that leads to the decisions about a class and a routine, with what they compare."""
    where = {"room": row["class_id"], "routine": row["routine_id"]}
    return counted_link(text, "since_decision", **where)


def how_sure(row: Row) -> str:
    """The range of the change, where there is one."""
    low, high = figure(row["change_low"]), figure(row["change_high"])
    if low is None or high is None:
        return ""
    return f"The change lies between {_points(low)} and {_points(high)}."


def _points(share: float) -> str:
    whole = round(share * 100)
    if not whole:
        return "no change"
    return f"{counted(abs(whole), 'point')} {'up' if whole > 0 else 'down'}"


def then_and_later(row: Row) -> tuple[Reading, float | None, bool]:
    """For the picture: the value since, the value before, and whether that rests on enough."""
    enough = "usable" if str(row["moved_code"]) != "early" else "thin"
    now = Reading(
        value=figure(row["later_value"]),
        low=figure(row["later_low"]),
        high=figure(row["later_high"]),
        session_count=int(figure(row["later_session_count"]) or 0),
        sufficiency=enough,
    )
    return now, figure(row["then_value"]), (figure(row["then_session_count"]) or 0) > 2


def at_rest_lines(rows: Iterable[Row], routines: Mapping[str, str], rest_days: int) -> list[str]:
    """What rests and what was closed lately, a line each."""
    found = []
    for row in rows:
        name, when = action_name(row, routines), weekday_day(row["decided_on"])
        if str(row["standing_code"]) == "resting":
            until = as_date(row["decided_on"])
            rests = "" if until is None else weekday_day(until + timedelta(days=rest_days))
            found.append(f"{name}: on {when} the teacher would rather not. It rests until {rests}, "
                         "unless what is seen changes.")  # fmt: skip
        elif str(row["standing_code"]) == "ended":
            found.append(f"{name}: closed on {when}.{_meanwhile(row)}")
    return found


def _meanwhile(row: Row) -> str:
    code = "" if missing(row.get("before_moved_code")) else str(row.get("before_moved_code"))
    was, became = figure(row.get("before_then_value")), figure(row.get("before_later_value"))
    if code not in ("moved_up", "moved_down", "same") or was is None or became is None:
        return ""
    both = _opens(f"from {percent(was)} to {percent(became)}", row)
    return f" {_MOVED[code].replace('**', '')} meanwhile, {both}."


def actions_table(
    rows: Iterable[Row], routines: Mapping[str, str], said: Mapping[str, str] = DECISION
) -> pd.DataFrame:
    """The same as a table: what was decided, what stood before and what has been seen since.

    `said` has the words of each decision: the team's own, or those for the class's teacher.
    """
    return pd.DataFrame(_table_line(row, routines, said) for row in rows)


def _table_line(
    row: Row, routines: Mapping[str, str], said: Mapping[str, str]
) -> dict[str, object]:
    line: dict[str, object] = {
        **({} if missing(row.get("class_title")) else {"Class": row["class_title"]}),
        "Routine": routines.get(str(row["routine_id"]), str(row["routine_id"])),
        "Decided": weekday_day(row["decided_on"]),
        "What": said[str(row["decision_code"])],
        "Come back on": weekday_day(row["follow_up_on"]),
        "Before": _side(row, "then"),
        "Since": _side(row, "later"),
        "In short": _MOVED[str(row["moved_code"])].replace("**", "").lower(),
    }
    for name in ("decided_on", "follow_up_on"):
        line |= exact.on({"decided_on": "Decided"}.get(name, "Come back on"), row[name])
    for name, side in (("Before", "then"), ("Since", "later"), ("Change", "change")):
        for part, end in (("", "value"), (", low", "low"), (", high", "high")):
            line |= exact.share(f"{name}{part}", row[f"{side}_{end}"])
    return line


def written_down(record: Mapping[str, str], name: str = "") -> str:
    """A decision that waits for the next build."""
    said = DECISION.get(record.get("decision", ""), "Decided")
    follow = record.get("follow_up_on", "")
    back = f", come back on {weekday_day(follow)}" if follow else ""
    note = f" “{record['note']}”" if record.get("note") else ""
    return f"{f'{name}: ' if name else ''}**{said}**{back}.{note} {_WAITS}"


_WAITS = "Written down, waiting for the next build."


def quoted(row: Row) -> str:
    """What the team noted."""
    return "" if missing(row.get("note")) else f"“{row['note']}”"


def decision_day(school: Row, today: date) -> date:
    """The day of the meeting: today; in the invented school, the day that its year has reached."""
    invented = as_date(school["as_of_on"]) if bool(school["is_demo"]) else None
    return invented or today


def come_back_on(decided_on: date, days: int) -> date:
    """The day that is suggested: some days later, and on a Monday instead of a weekend."""
    when = decided_on + timedelta(days=days)
    return when + timedelta(days=max(0, 7 - when.weekday()) if when.weekday() > 4 else 0)


def not_right(faults: Iterable[tuple[str, str]]) -> str:
    """What to put right before it can be written down."""
    told = [NOT_RIGHT.get(one, f"Something is not right with “{one[0]}”.") for one in faults]
    return f"{' '.join(dict.fromkeys(told))} {_KEPT_HERE}"


def cannot_keep(why: str) -> str:
    """The inbox did not take it."""
    return (
        f"The school’s computer did not take it ({why[:1].lower()}{why[1:]}). {_KEPT_HERE} "
        "Tell the data steward, then press the button once more."
    )


ALREADY = "Another decision was written down with this form. Look at it above, then decide again."


def came_back(row: Row) -> str:
    """When an offer that came back was put off, and until when."""
    return (
        f"It has come back: on {weekday_day(row['decided_on'])} {_DECIDED['wait']} on "
        f"{day(row['follow_up_on'])}."
    )
