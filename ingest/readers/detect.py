"""Which feed a file is, and what separates its columns."""

import csv
import difflib
import re
from collections.abc import Mapping, Sequence

from ingest.contracts import Contract
from ingest.findings import Finding, generic
from ingest.readers.table import SHEET_COLUMNS

DELIMITERS = (",", ";", "\t")
_FOREIGN_DELIMITERS = ("|", ":", "~", "^")


def feed_of(name: str, header: Sequence[str], contracts: Mapping[str, Contract]) -> str:
    """The feed by the file's name (`Routine-lessons (3).csv`), failing that by its header.

    Empty when neither tells. A header tells when it has every needed column of exactly one feed,
    or of one feed more than of any other.
    """
    words = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
    named = [feed for feed in contracts if re.search(rf"(?:^|_){feed}(?:_|$)", words)]
    if named:
        return max(named, key=len)
    return _by_header(set(header), contracts)


def _by_header(header: set[str], contracts: Mapping[str, Contract]) -> str:
    scores: dict[str, int] = {}
    for contract in contracts.values():
        needed = {one.name for one in contract.fields if not one.is_optional}
        if needed <= header:
            scores[contract.name] = len(needed)
    best = max(scores.values(), default=0)
    winners = [name for name, score in scores.items() if score == best]
    return winners[0] if len(winners) == 1 else ""


def split_header(line: str, contracts: Mapping[str, Contract]) -> tuple[str, list[str]]:
    """The delimiter and the names of a first line: the one that yields most known names."""
    known = {name for contract in contracts.values() for name in contract.field_names}
    best: tuple[str, list[str]] = (",", [])
    best_score = (-1, -1)
    for delimiter in DELIMITERS:
        names = [name.strip() for name in next(csv.reader([line], delimiter=delimiter), [])]
        score = (len(known & set(names)), len(names))
        if score > best_score:
            best, best_score = (delimiter, names), score
    return best


def looks_foreign(names: Sequence[str]) -> bool:
    """Whether the first line is one cell that holds another separator, such as a bar."""
    return len(names) == 1 and any(mark in names[0] for mark in _FOREIGN_DELIMITERS)


def header_findings(
    header: Sequence[str], contract: Contract, file_name: str
) -> tuple[Finding, ...]:
    """Missing, unknown and doubled columns: each refuses the file, for a contract is closed."""
    found = [
        generic("duplicate_column", file_name, line=1, column=name)
        for name in dict.fromkeys(header)
        if list(header).count(name) > 1
    ]
    found += [
        generic("missing_column", file_name, line=1, column=one.name)
        for one in contract.fields
        if one.name not in header and not one.is_optional
    ]
    found += [
        generic("unknown_column", file_name, line=1, column=name, detail=_hint(name, contract))
        for name in dict.fromkeys(header)
        if name not in contract.field_names and name not in SHEET_COLUMNS
    ]
    return tuple(found)


def _hint(name: str, contract: Contract) -> str:
    if not name:
        return " It has no name."
    near = difflib.get_close_matches(name.lower(), contract.field_names, n=1, cutoff=0.6)
    if near:
        return f" Did you mean {near[0]}?"
    return "" if contract.free_text else " This table takes no column of free text."
