"""Checks against what other files brought: keys that were never sent, days without school."""

from collections.abc import Mapping

import duckdb

from ingest.check_marks import Intake, mark_generic
from ingest.compile_sql import equal, name, names
from ingest.contracts import Contract, ForeignKey

_SUGGEST_AT_MOST = 500
_CLOSED = "('closed_planned', 'closed_emergency', 'staff_only')"


def check_references(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Every reference of the contract: the named thing must be landed, or stand in this file."""
    for key in intake.contract.foreign_keys:
        if not (key.when_loaded and _is_empty(con, key.resource)):
            _check_reference(con, intake, key)


def _is_empty(con: duckdb.DuckDBPyConnection, feed: str) -> bool:
    return con.execute(f"select 1 from latest.{name(feed)} limit 1").fetchone() is None


def _check_reference(con: duckdb.DuckDBPyConnection, intake: Intake, key: ForeignKey) -> None:
    contract = intake.contract
    is_list = len(key.fields) == 1 and contract.field(key.fields[0]).is_list
    present = " and ".join(f"{name(one)} is not null" for one in key.fields)
    known = f"select {names(key.reference_fields)} from latest.{name(key.resource)}"
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


def _explain(con: duckdb.DuckDBPyConnection, count: int) -> None:
    """What may have happened to the last part of each unknown key; kept in `explained`."""
    last = "k0"
    nearest = (
        """
        select unknown_keys.k0, arg_max(there.k0, jaro_winkler_similarity(
            cast(unknown_keys.k0 as varchar), cast(there.k0 as varchar))) as near,
            max(jaro_winkler_similarity(
                cast(unknown_keys.k0 as varchar), cast(there.k0 as varchar))) as alike
        from (select distinct k0 from unknown_keys) as unknown_keys
        cross join (select distinct k0 from there) as there
        group by unknown_keys.k0
        """
        if count <= _SUGGEST_AT_MOST
        else f"select distinct {last}, null as near, 0.0 as alike from unknown_keys"
    )
    con.execute(
        f"""
        create or replace temp table explained as
        with spelled as (
            select lower(trim(cast(k0 as varchar))) as form, min(cast(k0 as varchar)) as k0
            from there group by all
        ),
        stripped as (
            select ltrim(cast(k0 as varchar), '0') as form, min(cast(k0 as varchar)) as k0
            from there group by all
        ),
        nearest as ({nearest})
        select
            unknown_keys.*,
            case
                when spelled.k0 is not null and spelled.k0 <> cast(unknown_keys.k0 as varchar)
                    then 'space_or_case_in_key'
                when stripped.k0 is not null and stripped.k0 <> cast(unknown_keys.k0 as varchar)
                    and starts_with(stripped.k0, '0') then 'leading_zero_lost'
                else 'unknown_reference'
            end as rule_name,
            coalesce(
                case when spelled.k0 <> cast(unknown_keys.k0 as varchar)
                    then ' It may be ' || spelled.k0 || '.' end,
                case when starts_with(stripped.k0, '0')
                    then ' It may be ' || stripped.k0 || '.' end,
                case when nearest.alike >= 0.9 and nearest.near <> unknown_keys.k0
                    then ' The nearest is ' || nearest.near || '.' end,
                ''
            ) as detail
        from unknown_keys
        left join spelled on lower(trim(cast(unknown_keys.k0 as varchar))) = spelled.form
        left join stripped on ltrim(cast(unknown_keys.k0 as varchar), '0') = stripped.form
        left join nearest on unknown_keys.k0 = nearest.k0
        """
    )


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


def check_closed_day(
    con: duckdb.DuckDBPyConnection, intake: Intake, contracts: Mapping[str, Contract]
) -> None:
    """An event on a day on which its class was not in school, by the calendar that is landed.

    The narrowest entry counts: the class's own, then its grades', then everyone's. A Saturday or a
    Sunday without an entry is closed, once a calendar is there at all.
    """
    event = intake.contract.event_date
    if event is None or "school_days" not in contracts or _is_empty(con, "school_days"):
        return
    day = name(event.name)
    has_class = "class_id" in intake.contract.field_names and "classes" in contracts
    scopes = "select null as class_id, '*' as applies_to, 0 as width"
    link = "true"
    if has_class:
        scopes = """
            select class_id, '*' as applies_to, 0 as width from latest.classes
            union all
            select class_id, trim(unnest(string_split(grades, ';'))), 1 from latest.classes
            union all
            select class_id, class_id, 2 from latest.classes
        """
        link = "events.class_id = scopes.class_id"
    columns = f"{'class_id, ' if has_class else ''}{day} as day_on"
    key = ["class_id", "day_on"] if has_class else ["day_on"]
    mark_generic(
        con,
        "closed_day",
        event.name,
        f"""
        with events as (select distinct {columns} from incoming where {day} is not null),
        scopes as ({scopes}),
        entries as (
            select {names(key, "events.")}, bool_or(days.day_kind not in {_CLOSED}) as is_open,
                bool_or(days.day_kind in {_CLOSED}) as is_closed, scopes.width
            from events
            inner join scopes on {link}
            inner join latest.school_days as days on events.day_on = days.day_on
                and scopes.applies_to = days.applies_to
            group by all
        ),
        narrowest as (
            select * from entries
            qualify row_number() over (partition by {names(key)} order by width desc) = 1
        ),
        closed as (
            select events.*
            from events
            left join narrowest on {equal(key, "events", "narrowest")}
            where coalesce(
                narrowest.is_closed and not narrowest.is_open, isodow(events.day_on) >= 6
            )
        )
        select incoming.line_number, cast(incoming.{day} as varchar) as cell
        from incoming
        inner join closed on incoming.{day} = closed.day_on
            {"and incoming.class_id = closed.class_id" if has_class else ""}
        """,
    )
