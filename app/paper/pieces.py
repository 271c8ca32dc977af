"""The pieces a printed page is made of: runs of text, pictures with their words, tables."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

import pandas as pd

from app.charts.frame import Spec
from app.paper.press import drawn
from app.text.numbers import missing
from app.text.places import unlinked

Piece = dict[str, Any]
_BOLD = re.compile(r"\*\*(.+?)\*\*")


def said(text: str) -> list[Piece]:
    """The runs of a sentence of the screen: its links dropped, its bold words marked."""
    parts = _BOLD.split(unlinked(text))
    return [{"text": part, "bold": number % 2 == 1} for number, part in enumerate(parts) if part]


def each_said(texts: Iterable[str]) -> list[list[Piece]]:
    """Several sentences, the empty ones left out."""
    return [said(text) for text in texts if text]


def picture(spec: Spec, words: str, width: int) -> Piece:
    """A chart with the words that stand in for it. `width` is in pixels of the screen."""
    return {"svg": drawn(spec, width), "alt": unlinked(words)}


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> Piece:
    """A table of plain words; the first cell of a row is its name."""
    return {"head": list(head), "rows": [[said(cell) for cell in row] for row in rows]}


def table_of(frame: pd.DataFrame) -> Piece:
    """A table of the screen; a gap is an empty cell."""
    cells = [
        ["" if missing(cell) else str(cell) for cell in row] for row in frame.to_numpy().tolist()
    ]
    return table([str(name) for name in frame.columns], cells)
