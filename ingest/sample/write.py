"""Write feeds as files whose bytes depend on the rows alone: CSV, workbook and zip of months."""

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path

from openpyxl import Workbook

from ingest.contracts import load_contracts

Record = tuple[object, ...]

_STAMP = (1980, 1, 1, 0, 0, 0)


def columns(feed: str) -> tuple[str, ...]:
    """The public columns of a feed in order, as its contract names them."""
    return tuple(one.name for one in load_contracts()[feed].fields if not one.is_optional)


def csv_bytes(header: Sequence[str], rows: Iterable[Record]) -> bytes:
    """RFC 4180 text in UTF-8: dates as ISO 8601, true and false, nothing for None."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8")


def write_csv(path: Path, feed: str, rows: Iterable[Record]) -> Path:
    """One feed as one CSV file."""
    path.write_bytes(csv_bytes(columns(feed), rows))
    return path


def write_months(path: Path, feed: str, rows: Sequence[Record], date_column: str) -> Path:
    """One feed as a zip of one CSV file a month."""
    place = columns(feed).index(date_column)
    months: dict[str, list[Record]] = {}
    for row in rows:
        months.setdefault(str(row[place])[:7], []).append(row)
    header = columns(feed)
    members = {f"{feed}_{month}.csv": csv_bytes(header, months[month]) for month in sorted(months)}
    path.write_bytes(_zip_bytes(members))
    return path


def write_workbook(path: Path, feed: str, rows: Iterable[Record]) -> Path:
    """One feed as a workbook of one sheet, dates as real dates."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(feed)
    sheet.append(columns(feed))
    for row in rows:
        sheet.append(row)
    raw = io.BytesIO()
    book.save(raw)
    path.write_bytes(_without_clock(raw.getvalue()))
    return path


def write_calendar(path: Path, events: Iterable[tuple[date, date, str, str]]) -> Path:
    """An RFC 5545 calendar of all-day events (first day, day after the last, summary, category)."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Roundelay//Invented school//EN"]
    for number, (first_on, end_on, summary, category) in enumerate(events, start=1):
        lines += [
            "BEGIN:VEVENT",
            f"UID:quillbrook-{number}@example.invalid",
            "DTSTAMP:20250801T000000Z",
            f"DTSTART;VALUE=DATE:{first_on:%Y%m%d}",
            f"DTEND;VALUE=DATE:{end_on:%Y%m%d}",
            f"SUMMARY:{summary}",
            f"CATEGORIES:{category}",
            "END:VEVENT",
        ]
    path.write_bytes(("\r\n".join([*lines, "END:VCALENDAR"]) + "\r\n").encode("utf-8"))
    return path


def _cell(value: object) -> object:
    if value is True or value is False:
        return "true" if value else "false"
    return value


def _zip_bytes(members: Mapping[str, bytes]) -> bytes:
    """A zip whose bytes do not depend on the clock or on the operating system."""
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            archive.writestr(entry, content)
    return raw.getvalue()


def _without_clock(workbook: bytes) -> bytes:
    """The same workbook with the moment of saving taken out."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    core = "docProps/core.xml"
    fixed = rb"\g<1>2025-08-01T00:00:00Z\g<2>"
    stamp = rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(</dcterms)"
    members[core] = re.sub(stamp, fixed, members[core])
    return _zip_bytes(members)
