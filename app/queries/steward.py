"""What the data steward reads: files, findings, rows set aside, gaps."""

from __future__ import annotations

import pandas as pd

from app.access import Scope, fetch
from app.queries.kept import by_name, kept


@kept
def files(scope: Scope) -> pd.DataFrame:
    """The ledger, the latest file first."""
    query = "select * from mart_files order by received_at desc, file_name, feed"
    return fetch(scope, "steward", query)


@kept
def findings(scope: Scope) -> pd.DataFrame:
    """How often each rule spoke, by file."""
    query = """
        select
            file_name,
            feed,
            verdict,
            rule_name,
            column_name,
            any_value(message) as message,
            any_value(remedy) as remedy,
            min(line_number) as first_line,
            count(*) as finding_count,
        from mart_findings
        group by file_name, feed, verdict, rule_name, column_name
        order by file_name, verdict, rule_name, column_name
    """
    return fetch(scope, "steward", query)


@kept
def set_aside(scope: Scope) -> pd.DataFrame:
    """Rows set aside, one line for each reason."""
    query = """
        select *
        from mart_quarantine
        order by status, file_name, line_number, rule_name
    """
    return fetch(scope, "steward", query)


@kept
def freshness(scope: Scope) -> pd.DataFrame:
    """Per feed: the last event and the last file."""
    return fetch(scope, "steward", "select * from mart_freshness order by feed")


@kept
def completeness(scope: Scope, term_id: str) -> pd.DataFrame:
    """Per class and feed: what should have come and what did, by name."""
    query = f"""
        select *
        from mart_completeness
        where term_id = ?
        order by feed, {by_name("class_title")}, class_id
    """
    return fetch(scope, "steward", query, [term_id])
