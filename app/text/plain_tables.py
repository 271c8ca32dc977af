"""Tables behind plain counts."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text import exact
from app.text.dates import day, weekday_day
from app.text.numbers import counted, figure, number, percent
from app.text.offers import OUTCOME
from app.text.tables import cell
from app.text.words import CHECK, spoken

Row = Mapping[Hashable, object]
NOT_SHOWN = "not shown"


def grades_table(grades: pd.DataFrame) -> pd.DataFrame:
    """Classes and pupils of each grade."""
    return pd.DataFrame(
        [
            {
                "Grade": row["name"],
                "Classes": _count(row["class_count"]),
                "Pupils": _count(row["pupil_count"]),
            }
            for row in grades.to_dict("records")
        ]
    )


def matters_table(
    matters: pd.DataFrame, grades: Mapping[str, str], routines: Mapping[str, str]
) -> pd.DataFrame:
    """Offers open, waiting and held, and what belongs to a grade or the school."""
    kinds = {"offers": "offers to classes", "grade": "grade matter", "school": "school matter"}
    return pd.DataFrame(
        [
            {
                "What": spoken(row["matter_code"], kinds),
                "Grade": grades.get(str(row["grade_code"]), ""),
                "Routine": routines.get(str(row["routine_id"]), ""),
                "Open": _count(row["open_count"]),
                "Waiting": _count(row["waiting_count"]),
                "Held": _count(row["held_count"]),
                "Classes that show it": _of(row["shown_class_count"], row["class_count"]),
                **exact.plain("Classes that show it, count", row["shown_class_count"]),
                **exact.plain("Classes, count", row["class_count"]),
            }
            for row in matters.to_dict("records")
        ]
    )


def coaching_table(terms: pd.DataFrame) -> pd.DataFrame:
    """Rounds of coaching of each term and what became of them."""
    names = {
        "cycle_count": "Begun",
        "open_count": "Still open",
        "moved_count": "Moved up",
        "same_count": "No clear rise",
        "early_count": "Too early to say",
    }
    return pd.DataFrame(
        [
            {"Term": row["term_title"]}
            | {label: _count(row[name]) for name, label in names.items()}
            for row in terms.to_dict("records")
        ]
    )


def cycles_table(cycles: pd.DataFrame, routines: Mapping[str, str]) -> pd.DataFrame:
    """Rounds of coaching of a class, before and after."""
    return pd.DataFrame(
        [
            {
                "Began": weekday_day(row["began_on"]),
                "Routine": routines.get(str(row["routine_id"]), "several"),
                "Before": _mean(row["before_value"], row["before_session_count"]),
                "Since": _mean(row["after_value"], row["after_session_count"]),
                "What became of it": _outcome(row["outcome_code"]),
                **exact.on("Began", row["began_on"]),
                **exact.share("Before", row["before_value"]),
                **exact.share("Since", row["after_value"]),
            }
            for row in cycles.to_dict("records")
        ]
    )


def checks_table(checks: pd.DataFrame) -> pd.DataFrame:
    """What a replay of the draws looked for, and what it found."""
    return pd.DataFrame(
        [
            {
                "Looked for": spoken(row["check_name"], CHECK),
                "Found": _found(row),
                "Looked at": _count(row["checked_count"]),
                "First": weekday_day(row["first_found_on"]),
                "Last": weekday_day(row["last_found_on"]),
                **exact.on("First", row["first_found_on"]),
                **exact.on("Last", row["last_found_on"]),
            }
            for row in checks.to_dict("records")
        ]
    )


def weeks_of_lessons(rows: pd.DataFrame) -> pd.DataFrame:
    """Lessons given and due in each week, all kinds together."""
    return pd.DataFrame(
        [
            {
                "Routine": row["routine_name"],
                "Week of": weekday_day(row["week_first_on"]),
                "Given": cell(row["lesson_count"]) or "0",
                "Planned": cell(row["due_count"]) or "0",
                "": "no school" if row["is_break"] else "",
                **exact.on("Week of", row["week_first_on"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def late_facts(rows: pd.DataFrame) -> dict[str, str]:
    """Late entries among lessons with a time of entry."""
    found = rows[rows["feed"] == "routine_lessons"].to_dict("records")
    if not found:
        return {}
    return {
        "Written down later": _count(found[0]["late_count"]),
        "Lessons": _count(found[0]["timed_count"]),
        "Share": percent(figure(found[0]["late_rate"])),
    }


def teach_facts(row: Row) -> dict[str, str]:
    """What lies behind “a good moment to teach again”."""
    days = figure(row["days_since_taught"])
    return {
        "Lately": percent(figure(row["value"])),
        "Visits lately": _count(row["session_count"]),
        "Your class before that": percent(figure(row["own_past_value"])),
        "Last taught": day(row["last_taught_on"]),
        "School days since": "" if days is None else number(days) or "0",
    }


def step_facts(row: Row) -> dict[str, str]:
    """Times the weakest step was done."""
    return {
        "Step": str(row["weakest_step_text"]),
        "Seen done": _of(row["weakest_step_done_count"], row["weakest_step_scored_count"]),
        "Share": percent(figure(row["weakest_step_rate"])),
        "Visits": _count(row["weakest_step_session_count"]),
    }


def turns_facts(rows: pd.DataFrame, card: Row) -> dict[str, str]:
    """The round that is running, and turns of the term."""
    offered, taken = int(rows["offered"].sum()), int(rows["taken"].sum())
    longest = figure(card["longest_open_wait_days"])
    return {
        "Waiting in this round": counted(int(rows["is_waiting"].sum()), "child", "children"),
        "Had a turn this round": _of(card["cycle_had_turn_count"], card["cycle_pupil_count"]),
        "Longest wait now": "" if longest is None else f"{counted(longest, 'day')} with draws",
        "Turns offered this term": number(offered) or "0",
        "Turns taken this term": number(taken) or "0",
    }


def _found(row: Row) -> str:
    if not row["is_found"]:
        return "nothing"
    count = figure(row["finding_count"])
    return "yes" if count is None else number(count)


def _outcome(code: object) -> str:
    return OUTCOME.get(str(code), "under way").replace("*", "")


def _mean(value: object, visits: object) -> str:
    share = figure(value)
    seen = counted(figure(visits), "visit")
    return seen if share is None else f"{percent(share)} ({seen})"


def _count(value: object) -> str:
    found = figure(value)
    return NOT_SHOWN if found is None else number(found) or "0"


def _of(part: object, whole: object) -> str:
    first, second = figure(part), figure(whole)
    return "" if first is None or second is None else f"{_count(first)} of {_count(second)}"
