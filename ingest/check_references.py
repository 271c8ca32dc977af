"""Checks against what other files brought: keys that were never sent."""

import duckdb

from ingest.check_marks import Intake, mark_generic
from ingest.compile_sql import equal, name, names
from ingest.contracts import ForeignKey

_SUGGEST_AT_MOST = 500


def check_references(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Every reference of the contract: the named thing must be landed, or stand in this file."""
    for key in intake.contract.foreign_keys:
        if not (key.when_loaded and is_empty(con, key.resource)):
            _check_reference(con, intake, key)


def is_empty(con: duckdb.DuckDBPyConnection, feed: str) -> bool:
    """Whether nothing of a feed is landed."""
    return con.execute(f"select 1 from latest.{name(feed)} limit 1").fetchone() is None


def _check_reference(con: duckdb.DuckDBPyConnection, intake: Intake, key: ForeignKey) -> None:
    contract = intake.contract
    is_list = len(key.fields) == 1 and contract.field(key.fields[0]).is_list
    present = " and ".join(f"{name(one)} is not null" for one in key.fields)
    landed = f"latest.{name(key.resource)}"
    if key.part_of:
        landed = f"store.{name(key.resource)} where set_aside is null"
    known = f"select {names(key.reference_fields)} from {landed}"
    if key.resource == contract.name:
        known += f" union all select {names(key.reference_fields)} from incoming"
    sent = ", ".join(f"{name(one)} as k{i}" for i, one in enumerate(key.fields))
    if is_list:
        sent = f"unnest(string_split({name(key.fields[0])}, ';')) as k0"
    columns = [f"k{i}" for i in range(len(key.fields))]
    renamed = ", ".join(f"{name(one)} as k{i}" for i, one in enumerate(key.reference_fields))
    con.execute(
        f"create or replace temp table unknown_keys as select distinct sent.* "
        f"from (select {sent} from incoming where {present}) as sent "
        f"anti join (select {renamed} from ({known})) as there on {equal(columns, 'sent', 'there')}"
    )
    count = con.execute("select count(*) from unknown_keys").fetchone()
    if not count or not count[0]:
        return
    con.execute(f"create or replace temp view there as select {renamed} from ({known})")
    _explain(con, int(count[0]))
    _mark(con, key, columns, sent, present)


_NEAREST = """
    select
        sought.k0,
        arg_max(there.k0, jaro_winkler_similarity(
            cast(sought.k0 as varchar), cast(there.k0 as varchar)
        )) as near,
        max(jaro_winkler_similarity(
            cast(sought.k0 as varchar), cast(there.k0 as varchar)
        )) as alike
    from (select distinct k0 from unknown_keys) as sought
    cross join (select distinct k0 from there) as there
    group by sought.k0
"""
_NO_NEAREST = "select distinct k0, null as near, 0.0 as alike from unknown_keys"
_EXPLAINED = """
create or replace temp table explained as
with nearest as ({nearest}),
spelled as (
    select lower(trim(cast(k0 as varchar))) as form, min(cast(k0 as varchar)) as k0
    from there
    group by all
),
stripped as (
    select ltrim(cast(k0 as varchar), '0') as form, min(cast(k0 as varchar)) as k0
    from there
    where starts_with(cast(k0 as varchar), '0')
    group by all
),
sought as (
    select *, cast(k0 as varchar) as sent from unknown_keys
)
select
    sought.* exclude (sent),
    case
        when spelled.k0 <> sent then 'space_or_case_in_key'
        when stripped.k0 <> sent then 'leading_zero_lost'
        else 'unknown_reference'
    end as rule_name,
    case
        when spelled.k0 <> sent then ' It may be ' || spelled.k0 || '.'
        when stripped.k0 <> sent then ' It may be ' || stripped.k0 || '.'
        when nearest.alike >= 0.9 and nearest.near <> sought.k0
            then ' The nearest is ' || nearest.near || '.'
        else ''
    end as detail
from sought
left join spelled on lower(trim(sent)) = spelled.form
left join stripped on ltrim(sent, '0') = stripped.form
left join nearest on sought.k0 = nearest.k0
"""


def _explain(con: duckdb.DuckDBPyConnection, count: int) -> None:
    """What may have happened to each unknown key, by its last part; kept in `explained`."""
    nearest = _NEAREST if count <= _SUGGEST_AT_MOST else _NO_NEAREST
    con.execute(_EXPLAINED.format(nearest=nearest))


def _mark(
    con: duckdb.DuckDBPyConnection, key: ForeignKey, columns: list[str], sent: str, present: str
) -> None:
    for rule in ("unknown_reference", "space_or_case_in_key", "leading_zero_lost"):
        mark_generic(
            con,
            rule,
            key.fields[0],
            f"""
            select sent.line_number, cast(sent.k0 as varchar) as cell, any_value(detail) as detail
            from (select line_number, {sent} from incoming where {present}) as sent
            inner join explained on {equal(columns, "sent", "explained")}
            where explained.rule_name = '{rule}'
            group by all
            """,
            detail=True,
        )
