"""A record with rows of its own as one file: a zip of two tables, so that neither comes alone."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from app.capture.checks import Record
from ingest.contracts import Contract

# A zip says when its members were written; a fixed moment makes the same content the same file.
_WRITTEN = (1980, 1, 1, 0, 0, 0)


def columns_of(contract: Contract, records: Sequence[Record]) -> list[str]:
    """The columns to write: all, but those that may be left out only where something stands."""
    return [
        one.name
        for one in contract.fields
        if not one.is_optional or any(record.get(one.name, "") for record in records)
    ]


def text_of(contract: Contract, records: Sequence[Record]) -> str:
    """Records as the CSV that the contract of their feed asks for."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    columns = columns_of(contract, records)
    writer.writerow(columns)
    writer.writerows([record.get(name, "") for name in columns] for record in records)
    return text.getvalue()


def packed(tables: Mapping[str, str]) -> bytes:
    """Several tables (feed to text) as one zip; the same tables give the same bytes."""
    place = io.BytesIO()
    with zipfile.ZipFile(place, "w", zipfile.ZIP_DEFLATED) as archive:
        for feed, text in tables.items():
            member = zipfile.ZipInfo(f"{feed}.csv", _WRITTEN)
            member.external_attr = 0o600 << 16
            archive.writestr(member, text.encode("utf-8"))
    return place.getvalue()


def rows_in(path: Path, feed: str) -> list[dict[str, str]] | None:
    """The rows of a feed in a file of ours; None when the file has gone or is none of ours."""
    try:
        if path.suffix == ".zip":
            with zipfile.ZipFile(path) as archive:
                text = archive.read(f"{feed}.csv").decode("utf-8")
        elif feed and f"{feed}-" not in path.name:
            return None
        else:
            text = path.read_text(encoding="utf-8")
        rows = list(csv.DictReader(io.StringIO(text, newline="")))
    except (OSError, UnicodeDecodeError, csv.Error, KeyError, zipfile.BadZipFile):
        return None
    return [{name: row[name] or "" for name in row} for row in rows]
