"""Evenings of the small world as pages write them down: one record a file, named after its key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ingest.contracts import Contract
from ingest.contracts.model import Rule
from ingest.load import FileReport, load_files
from ingest.steps import Progress, no_progress
from ingest.workspace import Workspace
from tests.ingest import door
from tests.ingest.door import HEADER, evening

_EVENINGS = door.CONTRACTS["evenings"]
# Without the rule that judges a file by all of its rows: a feed that has one is never bundled.
CONTRACTS = {
    **door.CONTRACTS,
    "evenings": replace(
        _EVENINGS, rules=tuple(one for one in _EVENINGS.rules if one.kind != "file")
    ),
}


def with_rule(rule: Rule) -> dict[str, Contract]:
    """The contracts with one more rule for evenings."""
    evenings = CONTRACTS["evenings"]
    return {**CONTRACTS, "evenings": replace(evenings, rules=(*evenings.rules, rule))}


def name_of(number: int, revision: int = 1) -> str:
    """The name of a record's file."""
    key = f"00000000-0000-4000-8000-{number:012d}"
    return f"evenings-{key}{'' if revision == 1 else f'_{revision:02d}'}.csv"


def record(number: int, **cells: str) -> str:
    """The row of a record that is like no other."""
    own = {"evening_id": f"e{number}", "note": f"n{number}"}
    clock = f"{number // 60 % 24:02d}:{number % 60:02d}"
    return evening(**{**own, "began_local": clock, **cells})


def write(folder: Path, number: int, *, revision: int = 1, **cells: str) -> Path:
    """A record as a file; the column that takes it back stands only where it says something."""
    row, header = record(number, **cells), HEADER
    if "voided" not in cells:
        row, header = row.removesuffix(","), header.removesuffix(",voided")
    return door.write(folder, name_of(number, revision), f"{header}\r\n{row}\r\n")


def write_many(folder: Path, count: int) -> list[Path]:
    """So many good records."""
    return [write(folder, number) for number in range(1, count + 1)]


def load(
    root: Path, paths: Sequence[Path], progress: Progress = no_progress
) -> dict[str, FileReport]:
    """Load together; the reports by the names of the files."""
    found = load_files(
        list(paths), Workspace(root), door.SETTINGS, door.NOW, progress, contracts=CONTRACTS
    )
    return {one.file_name: one for one in found}


def looks(root: Path, paths: Sequence[Path]) -> tuple[dict[str, FileReport], int]:
    """The reports, and how often something was checked."""
    steps: list[str] = []
    found = load(root, paths, lambda step, done, total: steps.append(step))
    return found, sum(one.endswith("checked") for one in steps)
