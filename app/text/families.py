"""Practice at home as a teacher reads it: counts of families, never which."""

from __future__ import annotations

from app.text.numbers import counted, number, percent, percent_range
from app.text.places import linked
from app.text.readings import Reading

NEVER_WHICH = (
    "Which families is never written down. Homes differ in time, language and what practising "
    "looks like: do not conclude that the others do not care."
)


def practised(got: Reading) -> str:
    """How many of the families that were asked this term said that they practised."""
    if not got.is_known:
        return "No family has been asked yet this term."
    counts = linked(f"{number(got.numerator)} of {number(got.denominator)}", got.place)
    if not got.is_enough:
        weeks = counted(got.session_count, "week")
        return f"**{counts}** families practised, asked in {weeks}: too few to say more."
    share = linked(percent(got.value), got.place)
    return f"**{share}** of the families asked said that they practised ({counts})."


def rests_on(got: Reading) -> str:
    """The range and the weeks behind it; empty where there is too little for one."""
    if not got.is_enough:
        return ""
    weeks = linked(counted(got.session_count, "week"), got.place)
    return f"{linked(percent_range(got.low, got.high), got.place)}; asked in {weeks}."
