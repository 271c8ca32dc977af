"""The one door: files in, one report for each table out. `check_files` keeps nothing."""

import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from pathlib import Path
from zoneinfo import ZoneInfo

import duckdb

from ingest import ledger
from ingest.bundles import is_record
from ingest.contracts import Contract, load_contracts
from ingest.errors import Problem
from ingest.ledger_held import Choice
from ingest.load_bundle import load_records
from ingest.load_options import read_options, with_memberships
from ingest.load_release import Released, release_rows
from ingest.load_table import Batch, FileReport, Progress, load_table
from ingest.readers import Table, read
from ingest.settings import Settings
from ingest.workspace import Workspace

__all__ = [
    "Choice",
    "FileReport",
    "Progress",
    "Released",
    "check_files",
    "load_files",
    "no_progress",
    "release",
]

_CALENDARS = (".ics", ".ical")
Told = Callable[[FileReport], None]


@dataclass(frozen=True)
class _Waiting:
    """A table, or a calendar that is not read yet, and where its reader may write."""

    order: int
    what: Path | Table
    folder: Path


def no_progress(step: str, done: int, total: int) -> None:
    """Tells nobody."""


def tell_nobody(report: FileReport) -> None:
    """Keeps a verdict until all are in."""


def load_files(
    paths: Sequence[Path],
    workspace: Workspace,
    settings: Settings,
    now: datetime,
    progress: Progress = no_progress,
    contracts: Mapping[str, Contract] | None = None,
    told: Told = tell_nobody,
) -> list[FileReport]:
    """Load files, in the order in which their tables need one another, whatever order they are in.

    One transaction for each table, or for each bundle of single records (see `load_bundle`): its
    rows and its line in the ledger, or neither; `told` hears of each as soon as it stands. `now`
    is an aware moment. Raises `Busy`, and `Problem` when something other than a file is at fault.
    """
    contracts = contracts or load_contracts()
    with (
        _scratch(workspace.root) as scratch,
        ledger.open_store(workspace.landing, contracts, scratch) as con,
    ):
        batch = _batch(con, contracts, settings, now, progress, workspace.corrections)
        return _load_all(batch, paths, scratch, settings, told)


def check_files(
    paths: Sequence[Path],
    workspace: Workspace,
    settings: Settings,
    now: datetime,
    progress: Progress = no_progress,
    contracts: Mapping[str, Contract] | None = None,
) -> list[FileReport]:
    """What `load_files` would say. It is the same load, into a copy that is thrown away."""
    contracts = contracts or load_contracts()
    with _scratch(workspace.root) as scratch:
        copy = scratch / "landing.duckdb"
        _copy_store(workspace.landing, copy)
        with ledger.open_store(copy, contracts, scratch) as con:
            batch = _batch(con, contracts, settings, now, progress, None)
            return _load_all(batch, paths, scratch, settings)


def release(
    choice: Choice,
    workspace: Workspace,
    now: datetime,
    by: str,
    contracts: Mapping[str, Contract] | None = None,
) -> Released:
    """Let held rows in, on a person's word (`by`), where all their rules allow it.

    Rows that only a correction can let in stay held and are counted.
    """
    contracts = contracts or load_contracts()
    with (
        _scratch(workspace.root) as scratch,
        ledger.open_store(workspace.landing, contracts, scratch) as con,
    ):
        return release_rows(con, contracts, choice, now, by)


@contextmanager
def _scratch(root: Path) -> Iterator[Path]:
    """A folder on the workspace's own disk, gone afterwards."""
    root.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(
        prefix=".reading-", dir=root, ignore_cleanup_errors=True
    ) as folder:
        yield Path(folder)


def _copy_store(landing: Path, copy: Path) -> None:
    """Copy the store while no one writes: an open reader keeps writers out meanwhile."""
    if not landing.exists():
        return
    with ledger.reading(landing):
        shutil.copyfile(landing, copy)
        wal = landing.with_name(landing.name + ".wal")
        if wal.exists():
            shutil.copyfile(wal, copy.with_name(copy.name + ".wal"))


def _batch(
    con: duckdb.DuckDBPyConnection,
    contracts: Mapping[str, Contract],
    settings: Settings,
    now: datetime,
    progress: Progress,
    corrections: Path | None,
) -> Batch:
    if now.tzinfo is None:
        raise Problem("The moment of loading has no time zone.", rule="`now` is an aware datetime")
    values: dict[str, float | str] = {**settings.thresholds, "school_id": settings.school_id}
    received_on = now.astimezone(ZoneInfo(settings.time_zone)).date()
    return Batch(con, contracts, values, now, received_on, progress, corrections)


def _load_all(
    batch: Batch,
    paths: Sequence[Path],
    scratch: Path,
    settings: Settings,
    told: Told = tell_nobody,
) -> list[FileReport]:
    """Plain files and sets first, by load order; calendars at their turn, once terms are there."""
    contracts = batch.contracts
    calendar_order = contracts["school_days"].load_order if "school_days" in contracts else 0
    options = read_options(batch, settings)
    waiting: list[_Waiting] = []
    for number, path in enumerate(paths):
        folder = _folder(scratch, number)
        if path.suffix.lower() in _CALENDARS:
            waiting.append(_Waiting(calendar_order, path, folder))
            continue
        tables = read(path, folder, with_memberships(options, batch, path, folder))
        waiting += [_Waiting(_order(one, contracts), one, folder) for one in tables]
    waiting.sort(key=lambda one: one.order)
    reports: list[list[FileReport]] = [[] for _ in waiting]
    for place, report in _in_turn(batch, waiting, settings):
        reports[place].append(report)
        told(report)
    batch.progress("", len(waiting), len(waiting))
    return [report for one in reports for report in one]


def _in_turn(
    batch: Batch, waiting: Sequence[_Waiting], settings: Settings
) -> Iterator[tuple[int, FileReport]]:
    """Reports as they stand, each with the place of what it is about."""
    done = 0
    for feed, stretch in groupby(waiting, lambda one: _feed_of_record(one, batch.contracts)):
        several = list(stretch)
        if feed:
            tables = [one.what for one in several if isinstance(one.what, Table)]
            place = {id(table): done + number for number, table in enumerate(tables)}
            batch.progress(tables[0].file_name, done, len(waiting))
            for number, (table, report) in enumerate(load_records(batch, tables), start=1):
                yield place[id(table)], report
                batch.progress(table.file_name, done + number, len(waiting))
        else:
            for number, one in enumerate(several, start=done):
                for table in _tables(batch, one, settings):
                    batch.progress(table.file_name, number, len(waiting))
                    yield number, load_table(batch, table)
        done += len(several)


def _tables(batch: Batch, one: _Waiting, settings: Settings) -> list[Table]:
    """What has been read by now, or the calendar that is to be read now."""
    if isinstance(one.what, Table):
        return [one.what]
    return read(one.what, one.folder, read_options(batch, settings))


def _feed_of_record(one: _Waiting, contracts: Mapping[str, Contract]) -> str:
    """The feed of a file that may be checked together with its like, else nothing."""
    table = one.what
    if isinstance(table, Table) and is_record(table, contracts.get(table.feed)):
        return table.feed
    return ""


def _folder(scratch: Path, number: int) -> Path:
    folder = scratch / str(number)
    folder.mkdir(exist_ok=True)
    return folder


def _order(table: Table, contracts: Mapping[str, Contract]) -> int:
    contract = contracts.get(table.feed)
    return contract.load_order if contract else 0
