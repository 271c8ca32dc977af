"""A quiet word about each routine: what to look at, from what was seen."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text.numbers import figure, level_words, missing, number, percent
from app.text.readings import ENOUGH
from app.text.words import spoken

Row = Mapping[Hashable, object]


def caption(row: Row) -> str:
    """Under a routine's name: its voice level, its finished rounds, or its weakest step."""
    bias, rounds = figure(row.get("voice_bias")), figure(row.get("cycle_completion_rate"))
    if str(row.get("kind")) == "voice" and bias is not None:
        return f"voices {level_words(bias)}"
    if str(row.get("kind")) == "turns" and rounds is not None:
        return f"rounds finished: {percent(rounds)}"
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
    step = f"“{row['weakest_step_text']}”, {share} ({done} of {told})"
    return f"The step that holds least often: {step}."


def wording(row: Row) -> str:
    """What the routine serves and where, as the school words it."""
    parts = [row.get("expectation"), row.get("setting")]
    return " · ".join(spoken(part) for part in parts if not missing(part) and part)
