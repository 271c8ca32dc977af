"""The sentences that open a page: number in bold, what it is of, its range and what it rests on."""

from __future__ import annotations

from app.text.numbers import (
    amount,
    amount_range,
    counted,
    number,
    percent,
    percent_range,
    whole_percent,
)
from app.text.places import Place, linked
from app.text.readings import Reading
from app.text.words import standing, withheld


def taught(got: Reading) -> str:
    """Is it being taught? The share of planned lessons that were given."""
    if got.is_withheld:
        return f"Lessons given: {linked(withheld(got), got.place)}."
    if not got.is_known:
        return "No lesson of the plan has fallen due yet."
    share = linked(percent(got.value), got.place)
    return f"**{share}** of the lessons planned so far have been given."


def taught_basis(got: Reading) -> str:
    """The counts behind it, and both ends: missing logs as not given and as given."""
    if got.is_withheld:
        return ""
    if not got.is_known:
        return "The sentence appears when the first planned lesson is due."
    counts = f"{number(got.numerator)} of {number(got.denominator)}"
    said = f"{linked(counts, got.place)}."
    if got.high is not None and got.value is not None:
        if whole_percent(got.high) > whole_percent(got.value):
            most = linked(percent(got.high), got.place)
            said += f" If every missing log was a lesson given: {most}."
        else:
            said += " No log is missing."
    return said


def holds(got: Reading) -> str:
    """Does it hold when someone looks?"""
    if got.is_withheld:
        return f"What visits saw: {linked(withheld(got), got.place)}."
    if not got.is_known:
        return "Nobody has looked yet this term."
    share = linked(percent(got.value), got.place)
    if not got.is_enough:
        return f"A first glimpse: **{share}**, from too few looks to say."
    return f"Routines were in place **{share}** of the time when someone looked."


def holds_basis(got: Reading, seen: int | None = None, classes: int | None = None) -> str:
    """Range, visits, classes seen often enough where that is told, and the standing to our line."""
    if got.is_withheld:
        return ""
    if not got.is_known:
        return "A short visit to a few rooms is enough to begin."
    parts = [
        linked(percent_range(got.low, got.high), got.place),
        linked(counted(got.session_count, "visit"), got.place),
        linked(f"{seen} of {counted(classes, 'class', 'classes')}", got.place)
        + " seen at least 3 times"
        if classes and seen is not None
        else "",
        standing(got),
    ]
    return " · ".join(part for part in parts if part)


def offers(
    open_count: int | None,
    moved: int | None,
    cycles: int | None,
    of_offers: Place | None = None,
    of_cycles: Place | None = None,
) -> str:
    """Where would a hand be welcome? None is a count that is withheld."""
    first = _open_offers(open_count, of_offers)
    if cycles == 0:
        return f"{first}."
    if cycles is None:
        return (
            f"{first}. How many rounds of coaching there were is {linked('withheld', of_cycles)}."
        )
    coached = linked(counted(cycles, "round of coaching", "rounds of coaching"), of_cycles)
    if moved is None:
        hidden = linked("withheld", of_cycles)
        return f"{first}. How many of {coached} this year moved what they were for is {hidden}."
    what = linked(str(moved), of_cycles)
    return f"{first}. Of {coached} this year, **{what}** moved what they were for."


def _open_offers(count: int | None, place: Place | None) -> str:
    if count is None:
        return f"How many offers of a hand are open is {linked('withheld', place)}"
    if not count:
        return f"{linked('No offer', place)} of a hand is open"
    return f"**{linked(str(count), place)}** offer{' is' if count == 1 else 's are'} open"


def measured(got: Reading, unit: str) -> str:
    """A value with its range in brackets, or why there is none."""
    if got.is_withheld:
        return linked(withheld(got), got.place)
    if not got.is_known:
        return "nobody looked"
    ends = amount_range(got.low, got.high, unit)
    return linked(f"{amount(got.value, unit)}{f' ({ends})' if ends else ''}", got.place)


def basis(got: Reading, unit: str = "share") -> str:
    """Counts, visits and standing of one number, for under a chart."""
    if not got.is_known:
        return standing(got)
    counts = ""
    if unit == "share" and got.denominator:
        counts = f"{number(got.numerator)} of {number(got.denominator)}"
    parts = [linked(counts, got.place), counted(got.session_count, "visit"), standing(got)]
    return " · ".join(part for part in parts if part)
