"""What a reader has to know about the school before it opens a file, from what is landed by now."""

from dataclasses import replace
from pathlib import Path

from ingest.load_table import Batch
from ingest.readers import ReadOptions
from ingest.readers.delimited import hash_of
from ingest.readers.oneroster_package import is_oneroster
from ingest.settings import Settings


def read_options(batch: Batch, settings: Settings) -> ReadOptions:
    """What holds for every file until something more is landed."""
    first_on, last_on = None, None
    if "terms" in batch.contracts:
        row = batch.con.execute("select min(first_on), max(last_on) from latest.terms").fetchone()
        first_on, last_on = row or (None, None)
    schools = [settings.school_id]
    if "schools" in batch.contracts:
        found = batch.con.execute("select school_id from latest.schools order by 1").fetchall()
        schools = list(dict.fromkeys([*(row[0] for row in found), *schools]))
    return ReadOptions(
        school_id=settings.school_id,
        first_on=first_on,
        last_on=last_on,
        time_zone=settings.time_zone,
        end_dates=settings.roster.end_dates,
        equity_reports=settings.roster.equity_reports,
        school_ids=tuple(schools),
        received_on=batch.received_on,
        contracts=batch.contracts,
    )


def with_memberships(options: ReadOptions, batch: Batch, path: Path, scratch: Path) -> ReadOptions:
    """The options for one file; what is written for its reader lies in `scratch`."""
    return replace(options, open_memberships=_open_memberships(batch, path, scratch))


def _open_memberships(batch: Batch, path: Path, scratch: Path) -> Path | None:
    """The memberships landed so far as a CSV file, for a roster set that is new here.

    A complete set ends what it no longer lists. One that was here before must not: what came after
    it would be ended by an older truth.
    """
    if not is_oneroster(path) or "memberships" not in batch.contracts:
        return None
    was_here = batch.con.execute(
        "select 1 from ledger.files where starts_with(file_hash, $hash) and status <> 'refused'",
        {"hash": hash_of(path)},
    ).fetchone()
    if was_here:
        return None
    target = scratch / "open_memberships.csv"
    batch.con.execute(
        "copy (select memberships.* exclude (row_hash), classes.school_id "
        "from latest.memberships inner join latest.classes using (class_id)) "
        "to $target (format csv, header true)",
        {"target": str(target)},
    )
    return target
