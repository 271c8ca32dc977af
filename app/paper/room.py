"""How closely a brief is set: tried from roomy to tight until it fits its two pages."""

from __future__ import annotations

from dataclasses import dataclass

# What the panels of the first page may take together, and what a panel takes besides its lines.
_HEIGHT = 610
_TALLEST, _LOWEST = 96, 26
_BESIDES = 60
# What the labels at the left take, and a letter under a note.
_AXIS, _LETTER, _WITH_SIGN = 36, 6.4, 6


@dataclass(frozen=True)
class Setting:
    """Size of type (points), panels beside each other and how wide (pixels), longest name."""

    name: str
    text_points: float
    columns: int
    panel_width: int
    has_notes: bool
    letters: int
    most_routines: int
    share: float = 1.0
    most_grades: int = 16

    def term_letters(self, terms: int) -> int:
        """How many letters of a term's name stand under its note."""
        return int((self.panel_width - _AXIS) / max(1, terms) / _LETTER)

    def has_sign(self, terms: int) -> bool:
        """Whether there is room for a percent sign at each number."""
        return self.term_letters(terms) >= _WITH_SIGN

    def panel_height(self, routines: int, grades: int) -> int:
        """How tall the lines of each panel may be, so that all of them fill the page."""
        rows = -(-routines // self.columns) + -(-grades // self.columns)
        room = self.share * _HEIGHT / max(1, rows) - _BESIDES
        return int(max(_LOWEST, min(_TALLEST, room)))


SETTINGS = (
    Setting("roomy", 9.4, 3, 218, True, 60, 6),
    Setting("even", 9.2, 4, 162, False, 44, 8),
    Setting("close", 8.8, 4, 162, False, 38, 12),
    Setting("tight", 8.4, 5, 128, False, 30, 20),
    Setting("tighter", 8.2, 5, 128, False, 26, 20, 0.85),
    Setting("tightest", 8.0, 6, 106, False, 22, 20, 0.7),
)
