"""The bad files of all faults, as bytes.

One folder for each fault below `tests/fixtures/invalid/`, named after it. Files that must be loaded
first lie in its folder `before`.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path

from ingest.contracts import load_contracts
from ingest.contracts.model import VOIDED

from .good_rows import GOOD_ROWS
from .model import Fault, Row


def csv_bytes(feed: str, rows: Sequence[Row]) -> bytes:
    """The feed's good row with these changes, once for each, as RFC 4180 text."""
    columns = [one for one in load_contracts()[feed].field_names if one != VOIDED]
    columns += sorted({name for one in rows for name in one} - set(columns))
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\r\n")
    writer.writeheader()
    writer.writerows({**GOOD_ROWS[feed], **one} for one in rows)
    return text.getvalue().encode()


def files_of(fault: Fault) -> Iterator[tuple[Path, bytes]]:
    """Each file of a fault: its path below the folder of bad files, and its bytes."""
    for feed, rows in fault.before.items():
        yield Path(fault.name, "before", f"{feed}.csv"), csv_bytes(feed, rows)
    raw = csv_bytes(fault.feed, fault.rows) if fault.raw is None else fault.raw
    yield Path(fault.name, f"{fault.feed}{fault.ending}"), raw
