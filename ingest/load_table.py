"""One table from its text file into the landing store, in one transaction."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

import duckdb

from ingest import land, ledger
from ingest.check import check_intake, make_settings
from ingest.check_marks import Intake, add_findings, clear, judge, show_lines
from ingest.compile import Compiled, compile_table
from ingest.compile_sql import text
from ingest.contracts import Contract
from ingest.corrections import write_sheet
from ingest.findings import Finding, generic
from ingest.ledger import Counts, FileEntry
from ingest.load_faults import finding_of, problem_of
from ingest.readers import Table

Progress = Callable[[str, int, int], None]
FINDINGS_SHOWN = 200


@dataclass(frozen=True)
class FileReport:
    """What became of one table. `correction_sheet` holds its set-aside rows, if there are any.

    A finding stands for all rows with the same fault and the same cell: `line` is the first of
    them, `count` how many there are.
    """

    file_name: str
    file_hash: str
    feed: str
    status: str
    received: int
    accepted: int
    known: int
    quarantined: int
    refused: int
    findings: tuple[Finding, ...]
    correction_sheet: Path | None


@dataclass(frozen=True)
class Batch:
    """What all tables of one load share. Without `corrections` no sheet is written."""

    con: duckdb.DuckDBPyConnection
    contracts: Mapping[str, Contract]
    settings: Mapping[str, float | str]
    now: datetime
    received_on: date
    progress: Progress
    corrections: Path | None

    @property
    def received_on_sql(self) -> str:
        """The day of receipt as a SQL date."""
        return f"date '{self.received_on.isoformat()}'"


def load_table(batch: Batch, table: Table) -> FileReport:
    """Load one table; whatever happens, the ledger says so or nothing was changed."""
    con = batch.con
    contract = batch.contracts.get(table.feed)
    try:
        if contract is None or table.is_refused:
            return _refuse_unread(batch, table)
        earlier = ledger.earlier(con, table.file_hash, table.feed)
        if earlier is not None:
            return _already_known(batch, table, contract, earlier)
        return _read_and_load(batch, table, contract)
    except duckdb.Error as fault:
        roll_back(con)
        raise problem_of(fault, table) from fault


def roll_back(con: duckdb.DuckDBPyConnection) -> None:
    """End the open transaction, if there is one, and keep nothing of it."""
    try:
        con.execute("rollback")
    except duckdb.Error:
        return  # none was open, or the store has closed itself: nothing is kept either way


def _read_and_load(batch: Batch, table: Table, contract: Contract) -> FileReport:
    """A quick reading first; a careful one when a row has too few or too many cells."""
    con = batch.con
    file_number = ledger.next_file_number(con)
    fault: duckdb.Error | None = None
    for is_careful in (False, True):
        compiled = compile_table(contract, table, batch.received_on_sql, is_careful=is_careful)
        con.execute("begin")
        try:
            intake = land.receive(con, contract, table, compiled, file_number)
        except duckdb.Error as one:
            roll_back(con)
            fault = one
            continue
        return _finish(batch, intake, compiled, file_number)
    assert fault is not None  # noqa: S101 - the loop ends only through a fault
    finding = finding_of(fault, table)
    if finding is None:
        raise fault
    return _refuse_unread(batch, replace(table, findings=(*table.findings, finding)))


def _finish(batch: Batch, intake: Intake, compiled: Compiled, file_number: int) -> FileReport:
    """Check, keep, enter in the ledger: all inside the open transaction."""
    con, table, contract = batch.con, intake.table, intake.contract
    judge(con, intake, compiled)
    land.let_in_good(con, intake)
    make_settings(con, batch.settings)
    is_kept = check_intake(con, intake, compiled, batch.contracts, batch.received_on_sql)
    batch.progress(f"{table.file_name}: checked", 0, 0)
    if is_kept:
        counts = land.settle(con, intake, file_number)
        land.close_corrected(con, intake, [file_number], batch.now)
        status = "already_known" if 0 < counts.received == counts.known else "loaded"
        show_lines(con, intake)
        counts = replace(counts, warnings=_warnings(con))
        where = (table.file_hash, table.feed, table.file_name)
        ledger.record_quarantine(con, *where, batch.now)
    else:
        show_lines(con, intake)
        counts, status = land.discard(con, intake), "refused"
    report = _record(batch, table, contract.version, status, counts, file_number)
    sheet = None
    if is_kept and batch.corrections is not None:
        sheet = write_sheet(con, contract, table, batch.corrections)
    con.execute("commit")
    land.sweep(con, contract)
    return replace(report, correction_sheet=sheet)


def _warnings(con: duckdb.DuckDBPyConnection) -> int:
    row = con.execute("select count(*) from marks where verdict = 'warn'").fetchone()
    return int(row[0]) if row else 0


def _already_known(batch: Batch, table: Table, contract: Contract, counts: Counts) -> FileReport:
    clear(batch.con)
    add_findings(batch.con, [generic("duplicate_upload", table.file_name, count=counts.known)])
    number = ledger.next_file_number(batch.con)
    return _record_alone(batch, table, contract.version, "already_known", counts, number)


def _refuse_unread(batch: Batch, table: Table) -> FileReport:
    """Refuse a file of which no row was read; its lines are counted all the same."""
    clear(batch.con)
    add_findings(batch.con, table.findings)
    lines = _count_lines(table.path)
    number = ledger.next_file_number(batch.con)
    counts = Counts(received=lines, refused=lines)
    return _record_alone(batch, table, "", "refused", counts, number)


def _count_lines(path: Path) -> int:
    """Lines below the first; a last line need not end with a line break."""
    if not path.is_file():
        return 0
    lines, last = 0, b"\n"
    with path.open("rb") as file:
        for block in iter(lambda: file.read(1 << 20), b""):
            lines += block.count(b"\n")
            last = block[-1:]
    return max(0, lines - 1 + (last != b"\n"))


def _record_alone(
    batch: Batch, table: Table, version: str, status: str, counts: Counts, number: int
) -> FileReport:
    batch.con.execute("begin")
    report = _record(batch, table, version, status, counts, number)
    batch.con.execute("commit")
    return report


def _record(
    batch: Batch, table: Table, version: str, status: str, counts: Counts, number: int
) -> FileReport:
    con = batch.con
    ledger.record_findings(con, table.file_hash, table.feed, table.file_name)
    entry = FileEntry(
        number, table.file_hash, table.file_name, table.feed, batch.now, version, status, counts
    )
    ledger.record_file(con, entry)
    return report_of(entry, _findings(con, table))


def report_of(entry: FileEntry, findings: tuple[Finding, ...]) -> FileReport:
    """The report of a file as it stands in the ledger."""
    return FileReport(
        file_name=entry.file_name,
        file_hash=entry.file_hash,
        feed=entry.feed,
        status=entry.status,
        received=entry.counts.received,
        accepted=entry.counts.accepted,
        known=entry.counts.known,
        quarantined=entry.counts.quarantined,
        refused=entry.counts.refused,
        findings=findings,
        correction_sheet=None,
    )


def _findings(con: duckdb.DuckDBPyConnection, table: Table) -> tuple[Finding, ...]:
    rows = con.execute(
        f"""
        select rule_name, verdict, {text(table.file_name)}, min(line_number), column_name, cell,
            message, remedy, count(*)
        from marks
        group by rule_name, verdict, column_name, cell, message, remedy
        order by verdict = 'warn', min(line_number) nulls first, column_name, rule_name
        limit {FINDINGS_SHOWN}
        """
    ).fetchall()
    return tuple(Finding(*row) for row in rows)
