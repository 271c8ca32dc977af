"""The words of an offer of help: what was seen, how sure we are, what might help, and why not."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text.dates import day
from app.text.numbers import counted, figure, missing, number, percent, percent_range, points
from app.text.places import linked, of_term, place_of_row
from app.text.plain_numbers import counted_link

SURE = {
    "likely_below": "Probably under our line.",
    "unclear": "Too close to our line to say.",
    "likely_met": "Probably at our line.",
    "met": "At our line.",
    "too_little": "Too little to say.",
}
SIGNS = {
    "below_line": "it is probably under our line",
    "second_side": "another side of it is low as well",
    "lasting": "it has lasted, the newest visits included",
    "down_on_last_term": "it held better last term",
}
HELP = {
    "teach_again": "Teach it once more in its real place, with a few short practices.",
    "booster": "A booster for a week: five minutes, shown and practised, just before it is needed.",
    "practise_step": "Practise the one step that is left out most often.",
    "look_again": "Two or three more looks, at another hour of the day.",
}
# What an offer's measure saw, and what was looked at.
SEEN = {
    "responsiveness": ("children did as agreed, or in an accepted other way,", "looks"),
    "voice_match": ("the voice level was the agreed one", "readings"),
    "adherence": ("the step was done", "looks at a step"),
    "quality": ("what could be reached was reached", "points of the ratings"),
}
WHY_NOT = {
    "met": "at our line",
    "unclear": "too close to our line to say",
    "thin": "too few looks to say",
    "one_sign": "one sign only: wait and look again",
    "by_chance": "among so many lines of one review it may be luck: look again",
    "next_review": "it shows since the last review: the next one will look at it",
    "measure_held": "observers disagree: held until they see the same",
    "no_plan": "not in this term’s plan",
    "held_grade": "held: it is a matter of the grade",
    "held_school": "held: it is a matter of the school",
    "capacity": "waiting: the team has its hands full",
}
OUTCOME = {
    "moved_up": "**moved up**",
    "moved_down": "**moved down**",
    "same": "**no clear change**",
    "early": "**too early to say**",
}
Row = Mapping[Hashable, object]


def what_was_seen(row: Row, routine: str) -> str:
    """The precise statement: who, routine, how often, how sure, compared with its own past."""
    value = figure(row.get("value"))
    if value is None:
        return f"{routine}: nobody has looked yet this term."
    place = place_of_row(row)
    ends = percent_range(figure(row.get("low")), figure(row.get("high")))
    counts = f"{number(figure(row.get('numerator_count')))} of "
    counts += number(figure(row.get("denominator_count")))
    share = f"{percent(value)}{f' ({ends})' if ends else ''}"
    what, of = SEEN.get(str(row.get("measure_name")), SEEN["responsiveness"])
    said = f"{routine}: {what} in **{linked(counts, place)}** {of} over "
    said += f"{counted(figure(row.get('session_count')), 'visit')}: {linked(share, place)}"
    before = figure(row.get("previous_value"))
    if before is not None and str(row.get("previous_sufficiency")) in ("usable", "solid"):
        earlier = linked(percent(before), of_term(place, row.get("previous_term_id")))
        said += f", {points(before, value)} on the term before ({earlier})"
    return said + "."


def how_sure(row: Row) -> str:
    """Visits, days and observers, and what follows."""
    parts = [
        counted(figure(row.get("session_count")), "visit"),
        f"on {counted(figure(row.get('day_count')), 'day')}",
    ]
    if not missing(row.get("observer_count")):
        parts.append(f"by {counted(figure(row.get('observer_count')), 'observer')}")
    sure = SURE.get(str(row.get("sureness")), "")
    return f"{', '.join(parts)}. {sure}".strip()


def signs(row: Row) -> str:
    """Why it is on the agenda at all."""
    codes = "" if missing(row.get("reason_codes")) else str(row.get("reason_codes"))
    words = [SIGNS.get(code, code.replace("_", " ")) for code in codes.split(";") if code]
    if not words:
        return ""
    last = f" and {words[-1]}" if len(words) > 1 else words[-1]
    return f"It is here because {', '.join(words[:-1])}{last}."


def what_might_help(row: Row) -> str:
    """One step, and that it may be declined."""
    step = HELP.get(str(row.get("next_step_code")), "Ask the teacher what would help.")
    return f"{step} The teacher may decline."


def next_look(row: Row) -> str:
    """When the team could look again."""
    when = row.get("next_review_on")
    return "" if missing(when) else f"Look again on {day(when)}."


def why_not(row: Row) -> str:
    """Why there is no offer."""
    return WHY_NOT.get(str(row.get("why_not")), "")


def cycle_line(row: Row, routine: str) -> str:
    """What became of a coaching cycle, in one line."""
    said = f"{row.get('class_title')}, {routine.lower()}: "
    said += OUTCOME.get(str(row.get("outcome_code")), "under way")
    before, after = figure(row.get("before_value")), figure(row.get("after_value"))
    if str(row.get("outcome_code")) != "early" and before is not None and after is not None:
        where = {"room": row.get("class_id"), "routine": row.get("routine_id")}
        both = f"from {percent(before)} to {percent(after)}"
        said += f", {counted_link(both, 'coaching_change', **where)}"
        said += f" over {counted(figure(row.get('after_session_count')), 'visit')} since"
    else:
        visits = counted(figure(row.get("after_session_count")), "visit")
        said += f", {visits} since the coaching began"
    return said
