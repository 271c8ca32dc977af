"""Files of one record each, checked and landed together where all is well with them.

A bundle takes only rows that nothing is wrong with. A file of which something would be set aside or
refused goes out of the bundle and through `load_table` by itself, after the others, as does every
later revision of its record: what is said of it, and what becomes of it, is what it always was.
"""

from collections.abc import Iterator, Sequence

import duckdb

from ingest import land, land_bundle, ledger
from ingest.bundles import bundles, record_of, together
from ingest.check import check_intake, make_settings
from ingest.check_marks import Intake, judge
from ingest.compile import compile_table
from ingest.findings import Finding
from ingest.land_bundle import Share
from ingest.ledger import Counts, FileEntry
from ingest.load_faults import is_about_room, problem_of
from ingest.load_table import FINDINGS_SHOWN, Batch, FileReport, load_table, report_of, roll_back
from ingest.readers import Table

# Those left when some have gone out are looked at again, for they may have been part of the fault.
_ROUNDS = 3


Told = tuple[Table, FileReport]


def load_records(batch: Batch, tables: Sequence[Table]) -> Iterator[Told]:
    """Load records of one feed; each with its report as soon as that stands.

    One transaction for each bundle: its rows and its lines in the ledger, or none of them. The
    revisions of a record land in their order. Raises like `load_table`.
    """
    alone: list[Table] = []
    apart: set[str] = set()
    for bundle in bundles(tables):
        told = _load_bundle(batch, [one for one in bundle if record_of(one) not in apart])
        yield from told
        landed = {id(table) for table, _ in told}
        left = [one for one in bundle if id(one) not in landed]
        alone += left
        apart |= {record_of(one) for one in left}
    place = {id(table): number for number, table in enumerate(tables)}
    for table in sorted(alone, key=lambda one: place[id(one)]):
        yield table, load_table(batch, table)


def _load_bundle(batch: Batch, tables: Sequence[Table]) -> list[Told]:
    """Load what can be; the halves, when something will not do with the files together."""
    if not tables:
        return []
    known = ledger.been_here(batch.con, tables[0].feed, [one.file_hash for one in tables])
    fresh = [one for one in tables if one.file_hash not in known]
    if len(fresh) < 2:
        return []
    try:
        return _check_and_land(batch, fresh)
    except duckdb.Error as fault:
        roll_back(batch.con)
        if is_about_room(fault):
            raise problem_of(fault, together(fresh)) from fault
    middle = len(fresh) // 2
    return [*_load_bundle(batch, fresh[:middle]), *_load_bundle(batch, fresh[middle:])]


def _check_and_land(batch: Batch, tables: Sequence[Table]) -> list[Told]:
    con, contract, table = batch.con, batch.contracts[tables[0].feed], together(tables)
    compiled = compile_table(contract, table, batch.received_on_sql)
    read = land_bundle.read_bundle(con, contract, table, compiled.query)
    judge(con, read, compiled)
    land.let_in_good(con, read)
    make_settings(con, batch.settings)
    out = land_bundle.to_go_alone(con, read)
    first_number = ledger.next_file_number(con)
    con.execute("begin")
    for _ in range(_ROUNDS):
        places = [number for number in range(1, len(tables) + 1) if number not in out]
        if not places:
            break
        intake = land_bundle.gather(con, read, places, first_number)
        is_kept = check_intake(con, intake, compiled, batch.contracts, batch.received_on_sql)
        marked = land_bundle.marked(con)
        if is_kept and not marked:
            batch.progress(f"{table.file_name}: checked", 0, 0)
            return _land(batch, intake, [tables[one - 1] for one in places], first_number)
        out |= marked or set(places)
    roll_back(con)
    return []


def _land(batch: Batch, intake: Intake, tables: Sequence[Table], first_number: int) -> list[Told]:
    """Keep, enter in the ledger and commit."""
    con = batch.con
    shares = land_bundle.settle_bundle(con, intake)
    numbers = [one.file_number for one in shares]
    land.close_corrected(con, intake, numbers, batch.now)
    land_bundle.show_files(con, numbers[-1])
    found = _findings(con, numbers, tables)
    warnings = land_bundle.warnings(con)
    entries = [
        _entry(batch, intake, table, share, warnings.get(share.file_number, 0))
        for table, share in zip(tables, shares, strict=True)
    ]
    ledger.record_bundle(con, entries)
    con.execute("commit")
    return [
        (table, report_of(entry, tuple(found[entry.file_number])))
        for table, entry in zip(tables, entries, strict=True)
    ]


def _entry(
    batch: Batch, intake: Intake, table: Table, share: Share, warning_count: int
) -> FileEntry:
    counts = Counts(
        received=share.received,
        accepted=share.received - share.known,
        known=share.known,
        warnings=warning_count,
    )
    return FileEntry(
        file_number=share.file_number,
        file_hash=table.file_hash,
        file_name=table.file_name,
        feed=table.feed,
        received_at=batch.now,
        contract_version=intake.contract.version,
        status="already_known" if share.received == share.known else "loaded",
        counts=counts,
    )


def _findings(
    con: duckdb.DuckDBPyConnection, numbers: Sequence[int], tables: Sequence[Table]
) -> dict[int, list[Finding]]:
    names = {number: table.file_name for number, table in zip(numbers, tables, strict=True)}
    found: dict[int, list[Finding]] = {number: [] for number in numbers}
    for number, rule, verdict, *told in land_bundle.findings(con, FINDINGS_SHOWN):
        found[number].append(Finding(rule, verdict, names[number], *told))
    return found
