"""Rows into the landing store: read once, checked where they stand, then kept or taken out.

The reading statement writes straight into the feed's table, for writing twice would cost more than
all the checks together. Until the ledger has the file's line no view shows the rows.
"""

from collections.abc import Sequence
from datetime import datetime

import duckdb

from ingest import ledger
from ingest.check_marks import Intake
from ingest.compile import Compiled
from ingest.compile_sql import equal, name, names, text
from ingest.contracts import Contract
from ingest.contracts.model import VOIDED
from ingest.held import take_out_held
from ingest.ledger import Counts
from ingest.readers.table import Table


def receive(
    con: duckdb.DuckDBPyConnection,
    contract: Contract,
    table: Table,
    compiled: Compiled,
    file_number: int,
) -> Intake:
    """Run the reading statement. Raises `duckdb.Error` when the file's form does not allow it.

    Feeds with names are read into a temporary table first, so that no name ever stands outside
    the names table; and so are spreadsheets, for their rows bring their line numbers with them.
    """
    if contract.private_fields or table.line_column:
        con.execute(f"create or replace temp table intake as {compiled.query}")
        count = con.execute("select count(*), min(rowid) from intake").fetchone()
        received, first_row = count or (0, 0)
        return Intake(contract, table, "intake", "true", first_row or 0, received)
    target = f"store.{name(contract.name)}"
    public = names(contract.field_names)
    written = con.execute(
        f"insert into {target} "
        f"({public}, row_hash, set_aside, row_version, file_number) "
        f"select {public}, row_hash, set_aside, 1, {file_number} "
        f"from ({compiled.query})"
    ).fetchone()
    condition = f"file_number = {file_number}"
    first = con.execute(f"select min(rowid) from {target} where {condition}").fetchone()
    first_row = first[0] if first and first[0] is not None else 0
    received = written[0] if written else 0
    return Intake(contract, table, target, condition, first_row, received)


def let_in_good(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Rows that were not plainly good and in which the exact tests found nothing are in."""
    if not _count(con, "select count(*) from single_aside where reasons = ''"):
        return
    con.execute(
        f"update {intake.source} as kept set set_aside = null where {intake.condition} "
        f"and set_aside is not null and {intake.line('kept')} in "
        "(select line_number from single_aside where reasons = '')"
    )
    con.execute("delete from single_aside where reasons = ''")


def receive_released(
    con: duckdb.DuckDBPyConnection, contract: Contract, table: Table, query: str
) -> Intake:
    """Rows that a person lets in, typed, in the temporary table."""
    con.execute(f"create or replace temp table intake as {query}")
    return Intake(contract, table, "intake", "true", 0, _count(con, "select count(*) from intake"))


def keep_released(con: duckdb.DuckDBPyConnection, intake: Intake, file_number: int) -> int:
    """Land released rows that are not here by now; how many they are. Needs `known`."""
    con.execute("create or replace temp table gone as select line_number from known")
    _number_versions(con, intake)
    kept = _keep(con, intake, file_number)
    _remember_versions(con, intake)
    return kept


def keep_gathered(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Land the rows of a bundle under the numbers of their own files. Needs `gone`, `known` and
    `bundle_rows`."""
    _number_versions(con, intake)
    own = "select file_number from bundle_rows where bundle_rows.line_number = staying.line_number"
    _keep_from_intake(con, intake, f"({own})")
    _remember_versions(con, intake)


def discard(con: duckdb.DuckDBPyConnection, intake: Intake) -> Counts:
    """Take every row of a refused file out again."""
    if intake.source == "intake":
        con.execute("delete from intake")
    else:
        con.execute(f"delete from {intake.source} where {intake.condition}")
    return Counts(received=intake.received, refused=intake.received)


def settle(con: duckdb.DuckDBPyConnection, intake: Intake, file_number: int) -> Counts:
    """Keep what passed, with its versions; set aside what did not; say how many of each."""
    _find_aside(con, intake)
    known = _count(con, "select count(*) from known")
    con.execute(
        "create or replace temp table gone as select line_number from known "
        "union all select line_number from aside"
    )
    held_before = take_out_held(con, intake)
    aside = _count(con, "select count(*) from aside")
    _number_versions(con, intake)
    accepted = _keep(con, intake, file_number)
    _remember_versions(con, intake)
    return Counts(intake.received, accepted, known + held_before, aside)


def _count(con: duckdb.DuckDBPyConnection, query: str) -> int:
    row = con.execute(query).fetchone()
    return int(row[0]) if row else 0


def _find_aside(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Temp table `aside`: every row that some mark sets aside, as text, with all its rules."""
    con.execute(
        """
        create or replace temp table marked as
        select line_number, list(distinct rule_name order by rule_name) as rule_names,
            bool_and(can_release) as can_release
        from marks
        where verdict = 'quarantine' and line_number is not null
        group by line_number
        """
    )
    con.execute(
        "create or replace temp table aside as "
        "select line_number, row_json, rule_names, can_release "
        "from marked inner join single_aside using (line_number)"
    )
    if _count(con, "select count(*) from marked anti join single_aside using (line_number)"):
        cells = ", ".join(
            f"{text(one.name)}: {_as_text(one.name, one.type)}" for one in intake.contract.fields
        )
        con.execute(
            f"insert into aside select line_number, cast(to_json({{{cells}}}) as varchar), "
            "rule_names, can_release from incoming inner join marked using (line_number)"
        )


def _as_text(column: str, kind: str) -> str:
    """A typed cell as a school would write it."""
    if kind == "datetime":
        return f"strftime({name(column)}, '%Y-%m-%dT%H:%M:%SZ')"
    return f"cast({name(column)} as varchar)"


def _number_versions(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Temp table `versions`: rows that are not the first under their key. One that takes a row
    back comes after those it stands beside, wherever it is in the file."""
    keys = intake.contract.primary_key
    feed = name(intake.contract.name)
    voided = f"coalesce(one.{VOIDED}, false), " if VOIDED in intake.contract.field_names else ""
    con.execute(
        f"""
        create or replace temp table touched as
        select {names(keys)} from repeated
        union
        select {names(keys, "incoming.")}
        from incoming
        semi join feed.{feed} as landed on {equal(keys, "incoming", "landed")}
        """
    )
    con.execute(
        f"""
        create or replace temp table versions as
        with highest as (
            select {names(keys, "landed.")}, max(landed.row_version) as row_version
            from feed.{feed} as landed
            semi join touched on {equal(keys, "landed", "touched")}
            group by {names(keys, "landed.")}
        ),
        staying as (
            select one.*
            from incoming as one
            semi join touched on {equal(keys, "one", "touched")}
            anti join gone on one.line_number = gone.line_number
        )
        select one.line_number, {names(keys, "one.")}, coalesce(highest.row_version, 0)
            + row_number() over (
                partition by {names(keys, "one.")} order by {voided}one.line_number
            ) as row_version
        from staying as one
        left join highest on {equal(keys, "one", "highest")}
        """
    )


def _keep(con: duckdb.DuckDBPyConnection, intake: Intake, file_number: int) -> int:
    """Leave only accepted rows in the store, each with its version; how many they are."""
    if intake.source == "intake":
        return _keep_from_intake(con, intake, str(file_number))
    line = intake.line("kept")
    if _count(con, "select count(*) from gone anti join single_aside using (line_number)"):
        con.execute(
            f"delete from {intake.source} as kept where {intake.condition} and set_aside is null "
            f"and {line} in (select line_number from gone)"
        )
    con.execute(
        f"update {intake.source} as kept set row_version = versions.row_version from versions "
        f"where {intake.condition} and set_aside is null and versions.row_version > 1 "
        f"and {line} = versions.line_number"
    )
    return _count(con, "select count(*) from incoming")


def _keep_from_intake(con: duckdb.DuckDBPyConnection, intake: Intake, file_number: str) -> int:
    """`file_number` is SQL over the rows, which go by `staying`."""
    contract = intake.contract
    feed = name(contract.name)
    public = names([one.name for one in contract.public_fields])
    private = names([*contract.primary_key, *(one.name for one in contract.private_fields)])
    con.execute(
        "create or replace temp table staying as "
        "select incoming.*, coalesce(versions.row_version, 1) as version "
        "from incoming left join versions using (line_number) anti join gone using (line_number)"
    )
    con.execute(
        f"insert into store.{feed} ({public}, row_hash, row_version, file_number) "
        f"select {public}, row_hash, version, {file_number} from staying"
    )
    if contract.private_fields:
        con.execute(
            f"insert into names.{feed} ({private}, row_hash, row_version, file_number) "
            f"select {private}, private_hash, version, {file_number} from staying"
        )
    return _count(con, "select count(*) from staying")


def _remember_versions(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Note the newest version of every key that has more than one."""
    keys = intake.contract.primary_key
    newest = f"newest.{name(intake.contract.name)}"
    con.execute(
        f"delete from {newest} as old using versions where {equal(keys, 'old', 'versions')}"
    )
    con.execute(
        f"insert into {newest} select {names(keys)}, max(row_version) from versions "
        f"group by {names(keys)} having max(row_version) > 1"
    )


def sweep(con: duckdb.DuckDBPyConnection, contract: Contract) -> None:
    """Clear away the text of set-aside rows that the reading statement left in the feed's table.

    No view shows them and the quarantine has its own copy. Done after the file is committed: to
    delete rows of an open transaction makes DuckDB write all the others a second time.
    """
    con.execute(f"delete from store.{name(contract.name)} where set_aside is not null")


def close_corrected(
    con: duckdb.DuckDBPyConnection, intake: Intake, file_numbers: Sequence[int], at: datetime
) -> None:
    """Close held rows for which one of these files brought a row that passed."""
    contract = intake.contract
    held = _count(
        con,
        f"select count(*) from ledger.quarantine where feed = {text(contract.name)} "
        "and status = 'held'",
    )
    if held:
        accepted = (
            f"select {names(contract.primary_key)} from store.{name(contract.name)} "
            f"where file_number in ({', '.join(map(str, file_numbers))}) and set_aside is null"
        )
        ledger.mark_corrected(con, contract, accepted, at)
