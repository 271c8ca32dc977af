"""The few colours a chart may use.

On the screen they are the theme's own variables, so that a chart turns dark with its page; on paper
they are fixed.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Palette:
    """One blue for data, one rust for our line and for changes, greys for thin and absent."""

    ink: str
    muted: str
    data: str
    pale: str
    change: str
    thin: str
    card: str
    stave: str
    track: str
    rest_band: str
    class_band: str
    font: str = "'Atkinson Hyperlegible', sans-serif"


SCREEN = Palette(
    ink="var(--ro-ink)",
    muted="var(--ro-muted)",
    data="var(--ro-blue)",
    pale="var(--ro-pale)",
    change="var(--ro-rust)",
    thin="var(--ro-thin)",
    card="var(--ro-card)",
    stave="var(--ro-stave)",
    track="var(--ro-track)",
    rest_band="var(--ro-band)",
    class_band="var(--ro-half)",
)
PAPER = Palette(
    ink="#1A2530",
    muted="#4F5B66",
    data="#173F5F",
    pale="#7FA1BD",
    change="#A8561F",
    thin="#8593A0",
    card="#FFFFFF",
    stave="#D8D3C8",
    track="#ECE8DF",
    rest_band="#F1EDE3",
    class_band="#E7EAEC",
)
