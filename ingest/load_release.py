"""Rows that were set aside, let in on a person's word."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import duckdb

from ingest import land, ledger_held
from ingest.check import find_known, make_earlier
from ingest.check_marks import watch
from ingest.compile import compile_released
from ingest.compile_sql import text
from ingest.contracts import Contract
from ingest.errors import Problem
from ingest.ledger_held import Choice, HeldFile
from ingest.readers import Table


@dataclass(frozen=True)
class Released:
    """`released` rows were let in (`landed` of them were not here yet); `kept_held` rows can only
    be corrected."""

    released: int
    landed: int
    kept_held: int


def release_rows(
    con: duckdb.DuckDBPyConnection,
    contracts: Mapping[str, Contract],
    choice: Choice,
    now: datetime,
    by: str,
) -> Released:
    """Release what `choice` names, in one transaction: all of it or nothing."""
    con.execute("begin")
    try:
        files, kept_held = ledger_held.choose_held(con, choice)
        released = landed = 0
        for held in files:
            one_released, one_landed = _release_file(con, contracts[held.feed], held)
            ledger_held.mark_released(con, held, now, by)
            released, landed = released + one_released, landed + one_landed
        con.execute("commit")
    except duckdb.Error as fault:
        con.execute("rollback")
        raise Problem(
            "The rows could not be released; nothing was changed.",
            rule=str(fault).splitlines()[0],
            remedy="keep the message and report it",
        ) from fault
    return Released(released, landed, kept_held)


def _release_file(
    con: duckdb.DuckDBPyConnection, contract: Contract, held: HeldFile
) -> tuple[int, int]:
    rows = (
        "select line_number, row_json from chosen where can_release "
        f"and file_hash = {text(held.file_hash)} and feed = {text(held.feed)} "
        f"and file_name = {text(held.file_name)}"
    )
    header = contract.field_names
    table = Table(contract.name, held.file_name, held.file_hash, Path(), ",", header)
    intake = land.receive_released(con, contract, table, compile_released(contract, rows))
    watch(con, intake)
    find_known(con, intake, make_earlier(con, contract))
    return intake.received, land.keep_released(con, intake, held.file_number)
