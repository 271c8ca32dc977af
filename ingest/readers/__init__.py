"""One door for every kind of file: `read` finds the reader that fits."""

import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from ingest.contracts import load_contracts
from ingest.contracts.model import Contract
from ingest.findings import generic
from ingest.readers.delimited import hash_of
from ingest.readers.table import Table

if TYPE_CHECKING:
    from ingest.readers.oneroster import RosterOptions

__all__ = ["ReadOptions", "Table", "read"]

_BOOKS = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")


@dataclass(frozen=True)
class ReadOptions:
    """What a reader has to know about the school.

    school_id: the school that a calendar file is for
    first_on, last_on: the days between which a repeating calendar entry is written out
    time_zone: the school's zone, for calendar entries that name no zone of their own
    end_dates, equity_reports, school_ids: how a OneRoster set is read (see `RosterOptions`)
    open_memberships, received_on: what a complete OneRoster set is compared with (see `Landed`)
    feed: which feed the file is, when the caller knows it
    """

    school_id: str = ""
    first_on: date | None = None
    last_on: date | None = None
    time_zone: str = ""
    end_dates: str = "auto"
    equity_reports: bool = False
    school_ids: tuple[str, ...] = ()
    open_memberships: Path | None = None
    received_on: date | None = None
    feed: str | None = None
    contracts: Mapping[str, Contract] = field(default_factory=load_contracts)


def read(path: Path, scratch: Path, options: ReadOptions) -> list[Table]:
    """All tables of one received file; converted copies are written below `scratch`.

    Never raises for what a file may hold: that comes back as findings of the tables.
    """
    try:
        return _dispatch(path, scratch, options)
    except (OSError, zipfile.BadZipFile, ValueError, EOFError) as fault:
        finding = generic("unreadable_file", path.name, detail=f"{type(fault).__name__}.")
        file_hash = hash_of(path) if path.is_file() else ""
        return [Table("", path.name, file_hash, path, ",", (), findings=(finding,))]


def _dispatch(path: Path, scratch: Path, options: ReadOptions) -> list[Table]:
    # Imported here, so that a plain file does not wait for the libraries of the other kinds.
    suffix = path.suffix.lower()
    if suffix in (".ics", ".ical"):
        return _calendar(path, scratch, options)
    if suffix == ".zip":
        from ingest.readers import archive, oneroster

        if oneroster.is_oneroster(path):
            return oneroster.read(path, scratch, _roster_options(options))
        return archive.read(path, scratch, options.contracts)
    if suffix in _BOOKS:
        from ingest.readers import sheets

        return sheets.read(path, scratch, options.contracts, feed=options.feed)
    from ingest.readers import delimited

    return [delimited.read(path, scratch, options.contracts, feed=options.feed)]


def _roster_options(options: ReadOptions) -> "RosterOptions":
    from ingest.readers.oneroster import RosterOptions
    from ingest.readers.oneroster_absent import Landed

    landed = None
    if options.open_memberships and options.received_on:
        landed = Landed(options.open_memberships, options.received_on)
    return RosterOptions(
        end_dates=options.end_dates,
        school_ids=options.school_ids,
        equity_reports=options.equity_reports,
        landed=landed,
    )


def _calendar(path: Path, scratch: Path, options: ReadOptions) -> list[Table]:
    from ingest.readers import icalendar

    if options.first_on is None or options.last_on is None:
        detail = "load the terms first, so that the calendar's first and last day are known."
        finding = generic("unreadable_file", path.name, detail=detail)
        return [Table("", path.name, hash_of(path), path, ",", (), findings=(finding,))]
    return icalendar.read(
        path,
        scratch,
        options.school_id,
        options.first_on,
        options.last_on,
        time_zone=options.time_zone,
    )
