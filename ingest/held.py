"""Rows that were set aside before and come again: known, not held a second time."""

import duckdb

from ingest import ledger_held
from ingest.check_marks import Intake, mark_generic
from ingest.compile import compile_held
from ingest.compile_sql import same, text
from ingest.contracts import Contract


def take_out_held(con: duckdb.DuckDBPyConnection, intake: Intake) -> int:
    """Take rows that are held already out of temp table `aside`; how many they are.

    A row of the very file that waits for something else by now keeps its marks and is held for
    what is told today; any other keeps the reasons it was held for.
    """
    contract = intake.contract
    if con.execute("select 1 from aside limit 1").fetchone() is None:
        return 0
    _find_held(con, contract)
    row = con.execute("select count(*) from held_before").fetchone()
    count = int(row[0]) if row else 0
    if not count:
        return 0
    own = f"file_hash = {text(intake.table.file_hash)} and feed = {text(contract.name)}"
    con.execute(
        f"""
        create or replace temp table waits_anew as
        select held_before.line_number, held_before.held_row, aside.rule_names, aside.can_release
        from held_before
        inner join aside using (line_number)
        inner join ledger.quarantine as held on held.rowid = held_before.held_row
        where held.status = 'held' and held.rule_names <> aside.rule_names and {own}
            and held.file_name = {text(intake.table.file_name)}
        """
    )
    ledger_held.mark_waiting(con)
    con.execute("delete from aside where line_number in (select line_number from held_before)")
    con.execute(
        "delete from marks where line_number in (select line_number from held_before) "
        "and line_number not in (select line_number from waits_anew)"
    )
    told = f"select null as line_number, null as cell, '{count}' as detail"
    mark_generic(con, "still_set_aside", None, told, detail=True)
    return count


def _find_held(con: duckdb.DuckDBPyConnection, contract: Contract) -> None:
    """Temp table `held_before`: rows of `aside` that say what a row of the quarantine says.

    Word for word, or typed alike: a row is kept as it came when it fails by itself, and as it was
    understood when it fails beside others, so that the words of one and the same row may differ.
    """
    con.execute(
        "create or replace temp table held_rows as select rowid as held_row, row_json "
        f"from ledger.quarantine where feed = {text(contract.name)}"
    )
    pairs = (
        "select aside.line_number, held_rows.held_row from aside "
        "inner join held_rows on aside.row_json = held_rows.row_json"
    )
    if con.execute("select 1 from held_rows limit 1").fetchone():
        new = compile_held(contract, "select line_number, row_json from aside")
        old = compile_held(contract, "select held_row as line_number, row_json from held_rows")
        keys = contract.primary_key
        rest = [one for one in contract.field_names if one not in keys]
        alike = f"{same(keys, 'new', 'old')} and {same(rest, 'new', 'old')}"
        pairs += (
            f" union all select new.source_line, old.source_line from ({new}) as new "
            f"inner join ({old}) as old on {alike} where new.is_whole and old.is_whole"
        )
    con.execute(
        "create or replace temp table held_before as "
        f"select line_number, max(held_row) as held_row from ({pairs}) group by line_number"
    )
