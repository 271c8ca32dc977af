"""Which files are checked together: those of one record each, as the pages write them down.

To check a file costs the same whether it holds one row or a thousand, so a day of a school that
comes record by record is looked at as few tables. What is told is told of each file by its name.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ingest.contracts import Contract
from ingest.findings import REFUSE
from ingest.readers import Table

MOST_FILES = 500
MOST_BYTES = 1 << 18
# `routine_lessons-<key>.csv`, a later revision `..._02.csv`, a record with rows of its own a zip.
_RECORD = re.compile(
    r"([a-z_]+-[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})(?:_(\d\d))?\.(?:csv|zip/[a-z_]+\.csv)"
)


def is_record(table: Table, contract: Contract | None) -> bool:
    """Whether a table may be checked together with others like it.

    Not where names of people are kept apart, and not where a rule judges a file by all of its rows.
    """
    if contract is None or table.findings or table.line_column or contract.private_fields:
        return False
    if any(one.kind == "file" and one.verdict == REFUSE for one in contract.rules):
        return False
    return bool(_RECORD.fullmatch(table.file_name)) and table.path.stat().st_size <= MOST_BYTES


def record_of(table: Table) -> str:
    """What the revisions of one record share."""
    return _parts(table)[0]


def bundles(tables: Sequence[Table]) -> Iterator[list[Table]]:
    """Records of one feed in the order in which they are to land: first revisions, then second
    ones, and so on. No bundle holds a record twice, and all of a bundle have the same columns."""
    alike: dict[tuple[object, ...], list[Table]] = {}
    for table in sorted(tables, key=_revision):
        alike.setdefault((_revision(table), table.delimiter, table.header), []).append(table)
    for group in alike.values():
        for start in range(0, len(group), MOST_FILES):
            yield group[start : start + MOST_FILES]


def together(tables: Sequence[Table]) -> Table:
    """One table that is read from the files of all."""
    first = tables[0]
    return replace(first, file_name=_shown(tables), parts=tuple(one.path for one in tables))


def _shown(tables: Sequence[Table]) -> str:
    return f"{tables[0].file_name} and {len(tables) - 1} more"


def _revision(table: Table) -> int:
    return _parts(table)[1]


def _parts(table: Table) -> tuple[str, int]:
    match = _RECORD.fullmatch(table.file_name)
    if match is None:
        return table.file_name, 1
    return match[1], int(match[2] or 1)
