"""Ways to spoil a sound OneRoster set and to see what the reader says of it."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

from ingest.findings import Finding
from ingest.readers.oneroster import RosterOptions, read
from ingest.readers.oneroster_files import standard_files
from tests.ingest.readers.oneroster_sets import Files, sound_set, text_of, write_set

Change = Callable[[list[list[str]]], list[list[str]]]


def findings_of(
    tmp_path: Path, files: Files | None = None, version: str = "1.1", **how: Any
) -> dict[str, Finding]:
    """Read a set and return its findings by rule; the first of each."""
    path = write_set(tmp_path / "roster.zip", files or sound_set(version), version, **how)
    tables = read(path, tmp_path, RosterOptions())
    found: dict[str, Finding] = {}
    for table in tables:
        for finding in table.findings:
            found.setdefault(finding.rule, finding)
    return found


def with_columns(name: str, change: Change) -> dict[str, str]:
    """Return the text of one file of the sound set with its rows of cells changed."""
    rows = list(csv.reader(io.StringIO(text_of(name, sound_set()[name]))))
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(change(rows))
    return {f"{name}.csv": text.getvalue()}


def without(name: str, column: str) -> dict[str, str]:
    """Return the text of one file without a column."""
    at = standard_files("1.1")[name].columns.index(column)
    return with_columns(name, lambda rows: [row[:at] + row[at + 1 :] for row in rows])
