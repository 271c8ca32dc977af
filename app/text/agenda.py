"""The agenda of the meeting in short lines."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text.numbers import counted, figure
from app.text.plain_numbers import counted_link
from app.text.words import CHECK, spoken

Row = Mapping[Hashable, object]
# Courses of a line that the team has answered: it stands among what was said, or rests.
COACHING_COMPARED = (
    "Before: the visits since the last named change. Since: those from the first day of coaching "
    "on. The list above counts from the day the team decided, so the two may read differently."
)
DECIDED = ("under_way", "due", "waiting", "resting", "ended")


def meeting_under(school: Row, offers: pd.DataFrame) -> str:
    """The school and how many offers are to be considered."""
    count = int(offers["is_to_consider"].sum())
    return f"{school['school_name']} · {counted(count, 'offer')} to consider, by date and by name"


def offer_names(offers: pd.DataFrame, routines: Mapping[str, str]) -> dict[str, str]:
    """The class offers to consider by their key: `Room 3 · voice to fit the task`."""
    mine = offers[offers["is_to_consider"]]
    return {str(row["offer_id"]): offer_name(row, routines) for row in mine.to_dict("records")}


def offer_name(row: Row, routines: Mapping[str, str]) -> str:
    """`Room 3 · voice to fit the task`."""
    routine = routines.get(str(row["routine_id"]), str(row["routine_id"]))
    return f"{row['class_title']} · {routine[:1].lower()}{routine[1:]}"


def thin_classes(classes: pd.DataFrame) -> tuple[str, list[str]]:
    """Which classes have hardly been seen this term, by name."""
    thin = classes[classes["is_thin"]].to_dict("records")
    if not thin:
        return "Every class has been seen at least three times this term.", []
    lines = [f"{row['title']}: {_visits(row)} this term" for row in thin]
    return "A look or two more would help in:", lines


def _visits(row: Row) -> str:
    said = counted(figure(row["visit_count"]), "visit")
    return counted_link(said, "visits_made", room=row["class_id"])


def thin_routines(offers: pd.DataFrame) -> str:
    """For how many routines in a class too little was seen to speak of that routine alone."""
    lines = offers[offers["level_code"] == "class"]
    thin = int((lines["why_not"] == "thin").sum())
    if not thin:
        return ""
    return (
        f"For {thin} of {len(lines)} routines in a class, too little was seen this term to speak "
        "of that routine alone."
    )


def others(offers: pd.DataFrame) -> str:
    """How many lines are held, wait or are decided, so that nobody wonders where they went."""
    held = int(offers["state_code"].isin(["held_grade", "held_school"]).sum())
    is_free = offers["state_code"].isin(["offer", "waiting"]) & ~offers["is_to_consider"]
    is_decided = offers["course_code"].isin(DECIDED)
    waiting, decided = int((is_free & ~is_decided).sum()), int((is_free & is_decided).sum())
    said = []
    if decided:
        said.append(f"{counted(decided, 'line')} decided already")
    if held:
        said.append(f"{counted(held, 'line')} held for a grade or school matter")
    if waiting:
        said.append(f"{counted(waiting, 'line')} waiting until the team has hands free")
    return f"{'; '.join(said)}." if said else ""


def check_lines(checks: pd.DataFrame) -> list[str]:
    """What a replay of the draws found: about the cards, never about a child."""
    found = []
    for row in checks.to_dict("records"):
        count = figure(row["finding_count"])
        said = f"{row['class_title']}: {spoken(row['check_name'], CHECK)}"
        thing = str(row["counted_thing"])
        where = {"room": row["class_id"], "term": row["term_id"]}
        times = (
            ""
            if count is None
            else f" ({counted_link(_counted_thing(count, thing), 'turn_checks', **where)})"
        )
        found.append(f"{said}{times}")
    return found


def _counted_thing(count: float, thing: str) -> str:
    one = {"cycles": "round", "draws": "draw", "children": "child"}.get(thing, thing)
    return counted(count, one, "children" if one == "child" else "")
