"""Checks against the calendar: an event on a day without school."""

from collections.abc import Mapping

import duckdb

from ingest.check_marks import Intake, mark_generic
from ingest.check_references import is_empty
from ingest.compile_sql import equal, name, names
from ingest.contracts import Contract

_CLOSED = "('closed_planned', 'closed_emergency', 'staff_only')"
_CLASS_SCOPES = """
    select class_id, '*' as applies_to, 0 as width from latest.classes
    union all
    select class_id, trim(unnest(string_split(grades, ';'))), 1 from latest.classes
    union all
    select class_id, class_id, 2 from latest.classes
"""
_SCHOOL_SCOPE = "select '*' as applies_to, 0 as width"


def check_closed_day(
    con: duckdb.DuckDBPyConnection, intake: Intake, contracts: Mapping[str, Contract]
) -> None:
    """An event on a day on which its class was not in school, by the calendar that is landed.

    The narrowest entry counts: the class's own, then its grades', then everyone's. A Saturday or a
    Sunday without an entry is closed, once a calendar is there at all.
    """
    event = intake.contract.event_date
    if event is None or "school_days" not in contracts or is_empty(con, "school_days"):
        return
    has_class = "class_id" in intake.contract.field_names and "classes" in contracts
    mark_generic(con, "closed_day", event.name, _closed_rows(name(event.name), has_class))


def _closed_rows(day: str, has_class: bool) -> str:
    key = ["class_id", "day_on"] if has_class else ["day_on"]
    events = f"{'class_id, ' if has_class else ''}{day} as day_on"
    scopes = _CLASS_SCOPES if has_class else _SCHOOL_SCOPE
    link = "events.class_id = scopes.class_id" if has_class else "true"
    same_class = "and incoming.class_id = closed.class_id" if has_class else ""
    return f"""
        with events as (select distinct {events} from incoming where {day} is not null),
        scopes as ({scopes}),
        entries as (
            select {names(key, "events.")}, scopes.width,
                bool_and(days.day_kind in {_CLOSED}) as is_closed
            from events
            inner join scopes on {link}
            inner join latest.school_days as days on events.day_on = days.day_on
                and scopes.applies_to = days.applies_to
            group by all
        ),
        narrowest as (
            select *
            from entries
            qualify row_number() over (partition by {names(key)} order by width desc) = 1
        ),
        closed as (
            select events.*
            from events
            left join narrowest on {equal(key, "events", "narrowest")}
            where coalesce(narrowest.is_closed, isodow(events.day_on) >= 6)
        )
        select incoming.line_number, cast(incoming.{day} as varchar) as cell
        from incoming
        inner join closed on incoming.{day} = closed.day_on {same_class}
        """
