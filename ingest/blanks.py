"""Writes the blank spreadsheets of chosen tables into a folder."""

import difflib
from collections.abc import Iterable
from pathlib import Path

from ingest.contracts import load_contracts
from ingest.contracts.blank_sheets import blank_sheet
from ingest.errors import UsageProblem


def write(tables: Iterable[str], folder: Path, form: str) -> list[tuple[str, Path]]:
    """One empty file a table (every table when none is named); a file that is there stays.

    Returns table and file; `UsageProblem` for an unknown table or when a file is in the way.
    """
    contracts = load_contracts()
    chosen = list(tables) or list(contracts)
    for table in chosen:
        if table not in contracts:
            near = difflib.get_close_matches(table, list(contracts), n=1)
            raise UsageProblem(
                f"There is no table '{table}'.",
                rule=f"tables are: {', '.join(contracts)}",
                remedy=f"did you mean {near[0]}?" if near else "choose one of these",
            )
    files = {table: folder / f"{table}.{form}" for table in chosen}
    for file in files.values():
        if file.exists():
            raise UsageProblem(
                "A file of that name is there already.",
                where=str(file),
                rule="nothing is overwritten",
                remedy="choose another folder with --to, or move that file",
            )
    folder.mkdir(parents=True, exist_ok=True)
    return [(table, blank_sheet(contracts[table], file)) for table, file in files.items()]
