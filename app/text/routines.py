"""A quiet word about each routine: what to look at, from what was seen."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text.numbers import figure, level_words, missing, number, percent
from app.text.places import Place, linked
from app.text.plain_numbers import counted_link
from app.text.readings import ENOUGH
from app.text.words import spoken

Row = Mapping[Hashable, object]


def caption(row: Row) -> str:
    """Under a routine's name: its voice level, its finished rounds, or its weakest step."""
    bias, rounds = figure(row.get("voice_bias")), figure(row.get("cycle_completion_rate"))
    if str(row.get("kind")) == "voice" and bias is not None:
        return f"voices {linked(level_words(bias), _place(row, 'voice_bias'))}"
    if str(row.get("kind")) == "turns" and rounds is not None:
        return f"rounds finished: {linked(percent(rounds), _place(row, 'cycle_completion'))}"
    return f"weakest step: {row['weakest_step_text']}" if has_weakest(row) else ""


def has_weakest(row: Row) -> bool:
    """Whether enough was seen to name the step that holds least often."""
    said = not missing(row.get("weakest_step_text")) and bool(row.get("weakest_step_text"))
    return said and str(row.get("weakest_step_sufficiency")) in ENOUGH


def weakest_step(row: Row) -> str:
    """The step that holds least often, with its counts."""
    if not has_weakest(row):
        return "Too few steps have been seen this term to name one."
    share = percent(figure(row.get("weakest_step_rate")))
    done = number(figure(row.get("weakest_step_done_count")))
    told = number(figure(row.get("weakest_step_scored_count")))
    counts = counted_link(
        f"{share} ({done} of {told})",
        "weakest_step",
        school=row["school_id"],
        routine=row["routine_id"],
    )
    step = f"“{row['weakest_step_text']}”, {counts}"
    return f"The step that holds least often: {step}."


def _place(row: Row, measure: str) -> Place | None:
    """The school's number of the term that a routine's row tells of; rounds have no routine."""
    if missing(row.get("term_id")):
        return None
    return Place(
        measure=measure,
        level="school",
        school=str(row["school_id"]),
        routine="*" if measure == "cycle_completion" else str(row["routine_id"]),
        term=str(row["term_id"]),
    )


def wording(row: Row) -> str:
    """What the routine serves and where, as the school words it."""
    parts = [row.get("expectation"), row.get("setting")]
    return " · ".join(spoken(part) for part in parts if not missing(part) and part)
