"""What a file must say about itself before its first number: the same lines in every format."""

from __future__ import annotations

from dataclasses import dataclass

from app.files.cells import harmless
from app.text.cautions import LINE, SHORT

SIGN = "#"
HOW = (
    "Lines that begin with # come first, then one line of names, then the table. Columns that end "
    "in “0 to 1” hold shares as numbers; an empty one beside words means that there is no number. "
    "A text that a spreadsheet could take for a formula has an apostrophe in front."
)


@dataclass(frozen=True)
class About:
    """Where a table comes from: its build, its day, its term, and the view it was taken from."""

    title: str
    build_id: str = ""
    as_of_on: str = ""
    term: str = ""
    chosen: tuple[tuple[str, str], ...] = ()
    view_address: str = ""
    meaning_address: str = ""

    def lines(self) -> list[tuple[str, str]]:
        """Pairs of a name, which begins with #, and a text that is safe in any spreadsheet."""
        filters = "; ".join(f"{label}: {name}" for label, name in self.chosen)
        told = (
            ("Roundelay", self.title),
            ("Caution", SHORT),
            ("Caution", LINE),
            ("What the numbers mean", self.meaning_address),
            ("Build", self.build_id),
            ("As of", self.as_of_on),
            ("Term", self.term or "none chosen on this page"),
            ("Chosen", filters or "nothing else chosen on this page"),
            ("This view", self.view_address),
            ("How to read it", HOW),
        )
        return [(f"{SIGN} {name}", harmless(" ".join(text.split()))) for name, text in told if text]
