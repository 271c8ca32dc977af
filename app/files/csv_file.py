"""A table as comma-separated text that a spreadsheet opens cleanly and a program reads."""

from __future__ import annotations

import csv
import io

import pandas as pd

from app.files.about import About
from app.files.cells import Cell, harmless, table_cells


def csv_file(frame: pd.DataFrame, about: About) -> bytes:
    """UTF-8 text: lines that begin with # say what it is, then names, then rows.

    Every text is quoted, so that a # inside one is no comment to a program; numbers are not.
    """
    text = io.StringIO(newline="")
    write = csv.writer(text, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for name, told in about.lines():
        # The sign stands bare at the start of the line: a quoted one would not open a comment.
        text.write(f"{name},")
        write.writerow([told])
    names, rows = table_cells(frame)
    write.writerow([harmless(name) for name in names])
    write.writerows([[_plain(cell) for cell in row] for row in rows])
    # The mark tells spreadsheets that it is UTF-8; readers of UTF-8 text skip it.
    return ("\ufeff" + text.getvalue()).encode("utf-8")


def _plain(cell: Cell) -> Cell:
    return harmless(cell) if isinstance(cell, str) else cell
