"""What a teacher reads about her own class, in sentences."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence

import pandas as pd

from app.text import exact
from app.text.dates import day, short_day, weekday_day
from app.text.numbers import counted, figure, in_words, missing, number, percent
from app.text.plain_numbers import counted_link
from app.text.words import LESSON_KIND, SLOT, TEACH_NEXT, spoken

Row = Mapping[Hashable, object]
_CHIPS = 6


def child_name(row: Row) -> str:
    """Given name, with the first letter of the family name where two share it."""
    given = row.get("given_name")
    if missing(given) or not given:
        return f"Child {row['pupil_id']}"
    initial = row.get("family_initial")
    return f"{given}{'' if missing(initial) or not initial else f' {initial}.'}"


def waiting_sentence(turns: pd.DataFrame, card: Row) -> str:
    """How many children the running round has not reached."""
    count = int(turns["is_waiting"].sum()) if not turns.empty else 0
    if turns.empty or missing(card["cycle_number"]):
        return "No round of turns is running."
    if not count:
        return "Everyone has had a turn this round."
    if count <= _CHIPS:
        said = f"{in_words(count)} {'child is' if count == 1 else 'children are'}"
        return f"{_of_turns(said, card)} next."
    return f"{_of_turns(f'{in_words(count)} children', card)} are still to come this round. Next:"


def _of_turns(text: str, card: Row) -> str:
    return counted_link(text, "turns_of_class", room=card["class_id"])


def waiting_names(turns: pd.DataFrame) -> list[str]:
    """The names of those who wait, in the order of the queue; the rest as a number."""
    if turns.empty:
        return []
    rows = turns[turns["is_waiting"]].to_dict("records")
    names = _told_apart(rows)
    more = len(names) - _CHIPS
    return [*names[:_CHIPS], *([f"and {more} more"] if more > 0 else [])]


def drawn_names(rows: Iterable[Row]) -> list[str]:
    """Each child who may be drawn as on a card: the first name, and more where two share it."""
    return sorted(_told_apart([row for row in rows if row["is_eligible"]]), key=str.casefold)


def _told_apart(rows: Sequence[Row]) -> list[str]:
    """First names, with the first letter of the family name where two share one."""
    given = [str(row["given_name"]) for row in rows]
    return [
        child_name(row) if given.count(str(row["given_name"])) > 1 else first_name(row)
        for row in rows
    ]


def first_name(row: Row) -> str:
    """The given name alone."""
    given = row.get("given_name")
    return child_name(row) if missing(given) or not given else str(given)


def round_note(card: Row) -> str:
    """Where the round stands, and the longest wait."""
    said = []
    if not missing(card["cycle_began_on"]):
        had = number(figure(card["cycle_had_turn_count"]))
        of = number(figure(card["cycle_pupil_count"]))
        turns = _of_turns(f"{had} of {of}", card)
        said.append(f"The round began on {day(card['cycle_began_on'])}; {turns} had a turn.")
    longest = figure(card["longest_open_wait_days"])
    if longest:
        days = _of_turns(counted(longest, "day"), card)
        said.append(f"Nobody has waited longer than {days} with draws.")
    return " ".join(said)


def again_sentence(rows: pd.DataFrame) -> str:
    """The routine for which this is a good moment."""
    first = _first_reason(rows)
    if first is None:
        return "Nothing presses. Keep to your plan."
    return f"**{first['routine_name']}**"


def again_reason(rows: pd.DataFrame) -> str:
    """Why, and when it was last taught."""
    first = _first_reason(rows)
    if first is None:
        return next_due(rows)
    said = [TEACH_NEXT.get(str(first["reason_code"]), "")]
    days = figure(first["days_since_taught"])
    if days is not None:
        said.append(f"Last taught {counted(days, 'school day')} ago.")
    value, past = figure(first["value"]), figure(first["own_past_value"])
    if str(first["reason_code"]) == "data_dip" and value is not None and past is not None:
        where = {"room": first["class_id"], "routine": first["routine_id"]}
        lately = counted_link(percent(value), "teach_again", **where)
        earlier = counted_link(percent(past), "teach_again", **where)
        said.append(f"Lately {lately}, before {earlier}.")
    return " ".join(part for part in said if part)


def again_others(rows: pd.DataFrame) -> str:
    """Other routines with a reason, by name."""
    first = _first_reason(rows)
    if first is None:
        return ""
    others = [str(row["routine_name"]) for row in _reasons(rows)[1:]]
    return f"After that: {', '.join(others)}." if others else ""


def next_due(rows: pd.DataFrame) -> str:
    """The next planned lesson."""
    due = rows[rows["next_due_on"] >= rows["as_of_on"]].sort_values("next_due_on")
    if due.empty:
        return ""
    row = due.to_dict("records")[0]
    kind = spoken(row["next_lesson_kind"], LESSON_KIND)
    return f"Next in your plan: {row['routine_name']}, {kind}, {day(row['next_due_on'])}."


def unlogged_sentence(slots: pd.DataFrame) -> str:
    """How many planned lessons have no log."""
    if slots.empty:
        return "Every planned lesson is logged."
    count = counted_link(str(len(slots)), "open_lines", room=slots["class_id"].iloc[0])
    return f"**{count}** planned {'lesson has' if len(slots) == 1 else 'lessons have'} no log."


def routine_names(rows: pd.DataFrame) -> dict[str, str]:
    """Routine keys and their names."""
    return dict(zip(rows["routine_id"], rows["routine_name"], strict=True))


def turns_sentence(turns: pd.DataFrame) -> str:
    """How many children have been offered a turn this term."""
    if turns.empty:
        return "No turns have been drawn yet this term."
    eligible = turns[turns["is_eligible"]]
    reached = int((eligible["offered"] > 0).sum())
    said = counted_link(str(reached), "turns_of_class", room=turns["class_id"].iloc[0])
    return (
        f"**{said}** of {counted(len(eligible), 'child', 'children')} have been offered a turn "
        "this term. A pass is a turn offered."
    )


def turns_table(turns: pd.DataFrame) -> pd.DataFrame:
    """Each child's turns, in the order of the queue: who is next, not who did best."""
    return pd.DataFrame(
        [
            {
                "Child": child_name(row),
                "Turns offered": number(figure(row["offered"]) or 0) if row["offered"] else "0",
                "Turns taken": number(figure(row["taken"]) or 0) if row["taken"] else "0",
                "Last turn": "" if missing(row["last_turn_on"]) else short_day(row["last_turn_on"]),
                "Days with draws since": number(figure(row["open_wait_days"]) or 0),
                "This round": _round_state(row),
                **exact.on("Last turn", row["last_turn_on"]),
            }
            for row in turns.to_dict("records")
        ]
    )


def lessons_table(lessons: pd.DataFrame) -> pd.DataFrame:
    """Lessons logged, the latest first."""
    return pd.DataFrame(
        [
            {
                "Day": weekday_day(row["taught_on"]),
                "Routine": row["routine_name"],
                "Kind": spoken(row["lesson_kind"], LESSON_KIND),
                "Minutes": number(figure(row["minutes"])) if figure(row["minutes"]) else "",
                "Steps": _of(row["steps_done_count"], row["step_count"]),
                "Children there": number(figure(row["pupils_present_count"])),
                "What became of it": _became(row),
                **exact.on("Day", row["taught_on"]),
                **exact.plain("Steps done, count", row["steps_done_count"]),
                **exact.plain("Steps, count", row["step_count"]),
            }
            for row in lessons.to_dict("records")
        ]
    )


def _became(row: Row) -> str:
    state = spoken(row["status"], SLOT)
    return f"{state}, by a relief teacher" if row["is_substitute"] is True else state


def slots_table(slots: pd.DataFrame) -> pd.DataFrame:
    """Planned lessons with what became of each."""
    return pd.DataFrame(
        [
            {
                "Planned for": weekday_day(row["due_on"]),
                "Routine": row["routine_name"],
                "Kind": spoken(row["lesson_kind"], LESSON_KIND),
                "What became of it": spoken(row["status"], SLOT),
                **exact.on("Planned for", row["due_on"]),
            }
            for row in slots.to_dict("records")
        ]
    )


def _of(done: object, total: object) -> str:
    first, second = figure(done), figure(total)
    if first is None or not second:
        return ""
    return f"{number(first) if first else '0'} of {number(second)}"


def _round_state(row: Row) -> str:
    if not row["is_eligible"]:
        return "not in the draw"
    state = "waiting" if row["is_waiting"] else "had a turn"
    return f"{state}, new to the class" if row["is_newcomer"] else state


def _reasons(rows: pd.DataFrame) -> list[Row]:
    return [row for row in rows.to_dict("records") if row["reason_code"] != "none"]


def _first_reason(rows: pd.DataFrame) -> Row | None:
    return next(iter(_reasons(rows)), None)
