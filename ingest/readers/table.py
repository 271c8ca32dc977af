"""What every reader hands on: a text file that DuckDB can read, and what was found on the way."""

from dataclasses import dataclass
from pathlib import Path

from ingest.findings import Finding

# Columns that our own correction sheet puts before the others; a reader passes them by.
SHEET_COLUMNS = ("fix_line", "fix_reasons", "fix_remedy")


@dataclass(frozen=True)
class Table:
    """One table of text.

    feed: name of its contract, empty when it could not be told
    file_name: as shown to a clerk: `lessons.csv`, `roster.zip/users.csv`, `book.xlsx/Sheet1`
    file_hash: SHA-256 of the received bytes, in hex (a member of an archive: that + "/" + member)
    path: a UTF-8 file after RFC 4180; the received one itself when it already is one
    first_line: the number of the first row of data, as the clerk sees it
    line_column: a text column of `path` that holds the clerk's line number (converted sources)
    findings: what was met while reading; any `refuse` among them refuses the table
    parts: files of one form that are read together, in this order; `source_line` of a row is then
        the number of its file among them, from 1
    """

    feed: str
    file_name: str
    file_hash: str
    path: Path
    delimiter: str
    header: tuple[str, ...]
    first_line: int = 2
    line_column: str | None = None
    findings: tuple[Finding, ...] = ()
    parts: tuple[Path, ...] = ()

    @property
    def is_refused(self) -> bool:
        """Whether what was met while reading refuses the whole table."""
        return any(one.verdict == "refuse" for one in self.findings)
