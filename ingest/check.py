"""All checks of one file that is on its way in: what is found stands in temp table `marks`.

Nothing is written to the landing store here, and no row is looped over in Python.
"""

from collections.abc import Mapping

import duckdb

from ingest.check_calendar import check_closed_day
from ingest.check_keys import (
    check_date_order,
    check_duplicate_keys,
    check_key_reused,
    check_names_for_keys,
    find_known,
)
from ingest.check_marks import (
    Intake,
    has_refusal,
    mark_rule,
    mark_single_rows,
    start,
)
from ingest.check_references import check_references
from ingest.compile import Compiled, with_received_on
from ingest.compile_sql import name, names, same
from ingest.contracts import Contract, Rule

__all__ = ["Intake", "check_intake", "find_known", "make_earlier", "make_settings"]


def make_settings(con: duckdb.DuckDBPyConnection, values: Mapping[str, float | str]) -> None:
    """The one-row temp table `settings` that rules read their thresholds from."""
    columns = ", ".join(f"? as {name(one)}" for one in values)
    con.execute(f"create or replace temp table settings as select {columns}", list(values.values()))


def check_intake(
    con: duckdb.DuckDBPyConnection,
    intake: Intake,
    compiled: Compiled,
    contracts: Mapping[str, Contract],
    received_on: str,
) -> bool:
    """Fill `marks` and `known`; false when the file is refused as a whole."""
    start(con, intake, compiled)
    mark_single_rows(con)
    check_date_order(con, intake)
    check_names_for_keys(con, intake)
    if has_refusal(con):
        return False
    has_earlier = make_earlier(con, intake.contract)
    find_known(con, intake, has_earlier)
    check_duplicate_keys(con, intake)
    check_key_reused(con, intake, has_earlier)
    check_references(con, intake)
    check_closed_day(con, intake, contracts)
    for rule in intake.contract.rules:
        _apply_rule(con, intake.contract, rule, received_on)
    con.execute("delete from marks where line_number in (select line_number from known)")
    return not has_refusal(con)


def make_earlier(con: duckdb.DuckDBPyConnection, contract: Contract) -> bool:
    """View `earlier`: the newest version of every row that is landed, the voided ones too."""
    keys = contract.primary_key
    feed = name(contract.name)
    public = names([one.name for one in contract.public_fields], "landed.")
    private = names([one.name for one in contract.private_fields], "private.")
    link = same(keys, "landed", "private") + " and landed.row_version = private.row_version"
    join = f"left join names.{feed} as private on {link}" if private else ""
    con.execute(
        f"""
        create or replace temp view earlier as
        select {public}{", " + private if private else ""}, landed.row_hash, landed.row_version
        from feed.{feed} as landed
        left join newest.{feed} as newer on {same(keys, "landed", "newer")}
        {join}
        where newer.row_version is null or newer.row_version = landed.row_version
        """
    )
    return con.execute(f"select 1 from feed.{feed} limit 1").fetchone() is not None


def _apply_rule(
    con: duckdb.DuckDBPyConnection, contract: Contract, rule: Rule, received_on: str
) -> None:
    sql = with_received_on(rule.sql, received_on)
    if rule.kind == "row":
        if rule.verdict == "warn":
            lines = f"select line_number from incoming where ({sql})"
            mark_rule(con, contract, rule, lines, has_detail=False)
        return
    columns = [row[0] for row in con.execute(f"describe {sql}").fetchall()]
    if rule.kind == "file":
        # The first column is the detail, whatever the rule calls it.
        renamed = ", ".join(["detail", *(f"x{number}" for number in range(1, len(columns)))])
        lines = f"select null::bigint as line_number, detail from ({sql}) as found({renamed})"
        mark_rule(con, contract, rule, lines, has_detail=True)
        return
    mark_rule(con, contract, rule, sql, has_detail="detail" in columns)
