"""The sides of fidelity in words, and which shares are drawn week by week."""

from __future__ import annotations

import pandas as pd

from app.text.readings import Reading, pick, pick_row
from app.text.words import SIDES

# The first is what a page shows until another is chosen.
DRAWN = ("responsiveness", "adherence", "quality", "voice_match", "fidelity")


def sides_of(rows: pd.DataFrame) -> list[tuple[str, Reading]]:
    """The five sides, always in the same order, of one routine's rows of one term."""
    return [(word, pick(rows, measure_name=name)) for name, word in SIDES.items()]


def weakest_of(rows: pd.DataFrame) -> str | None:
    """The word of the lowest side, as the models named it; None when they named none."""
    row = pick_row(rows, measure_name="fidelity")
    return None if row is None else SIDES.get(str(row["weakest_dimension"]))
