"""Puts reports on the terminal: short tables, plain sentences, the next step last."""

from collections.abc import Iterable
from dataclasses import asdict
from datetime import datetime
from typing import Any

from rich.console import Console
from rich.table import Table

from ingest.build import Built
from ingest.findings import Finding
from ingest.load import FileReport
from ingest.state import State

_VERDICTS = {"refuse": "file refused", "quarantine": "set aside", "warn": "please look"}
_STATUS = {"loaded": "loaded", "refused": "refused", "already_known": "already known"}
_FINDINGS_SHOWN = 20


def reports(console: Console, found: Iterable[FileReport], is_kept: bool) -> None:
    """What happened to each file: its counts, then every rule that was met and what to do."""
    table = _table("File", "What it is", "Result", *_COUNTS)
    for one in found:
        result = _STATUS.get(one.status, one.status) if is_kept else _checked(one)
        counts = (one.received, one.accepted, one.known, one.quarantined, one.refused)
        table.add_row(one.file_name, one.feed or "?", result, *map(str, counts))
    console.print(table)
    for one in found:
        findings(console, one)


_COUNTS = ("Received", "Accepted", "Known", "Set aside", "Refused")


def as_dicts(found: Iterable[FileReport]) -> list[dict[str, Any]]:
    """The reports for machines: every finding, nothing left out."""
    return [asdict(one) for one in found]


def as_verdict(report: FileReport) -> dict[str, Any]:
    """One report for a program that shows it to a person: each rule once, no value received."""
    sheet = report.correction_sheet
    told = ("rule", "verdict", "line", "column", "message", "remedy")
    return {
        **{name: value for name, value in asdict(report).items() if name != "findings"},
        "correction_sheet": sheet.name if sheet else None,
        "findings": [
            {**{name: getattr(finding, name) for name in told}, "count": count}
            for finding, count in _by_rule(report.findings)
        ],
    }


def _checked(report: FileReport) -> str:
    if report.status == "refused":
        return "would be refused"
    return "would set some rows aside" if report.quarantined else "fine"


def findings(console: Console, report: FileReport) -> None:
    """The findings of one file, each rule once, with its first line and its remedy."""
    shown = _by_rule(report.findings)
    for finding, count in shown[:_FINDINGS_SHOWN]:
        times = f", {count} times" if count > 1 else ""
        console.print(
            f"\n{report.file_name}{_place(finding)}: {_VERDICTS.get(finding.verdict, '')}"
        )
        console.print(f"  {finding.message} [{finding.rule}{times}]")
        console.print(f"  What to do: {finding.remedy}")
    if len(shown) > _FINDINGS_SHOWN:
        console.print(f"\n... and {len(shown) - _FINDINGS_SHOWN} more kinds of finding.")
    if report.correction_sheet:
        console.print(f"  Correct the rows in {report.correction_sheet} and load that file.")


def _by_rule(found: Iterable[Finding]) -> list[tuple[Finding, int]]:
    grouped: dict[tuple[str, str | None, str], tuple[Finding, int]] = {}
    for finding in found:
        key = (finding.rule, finding.column, finding.verdict)
        first, count = grouped.get(key, (finding, 0))
        grouped[key] = (first, count + finding.count)
    return list(grouped.values())


def _place(finding: Finding) -> str:
    line = f", line {finding.line}" if finding.line else ""
    return line + (f", column {finding.column}" if finding.column else "")


def built(console: Console, result: Built, seconds: float) -> None:
    """What a build made."""
    table_count = sum(len(tables) for tables in result.tables.values())
    console.print(
        f"Built {result.build_id} in {seconds:.0f} seconds, as of {result.as_of_on.isoformat()}: "
        f"{table_count} tables and {result.room_count} rooms."
    )
    for warning in result.warnings:
        console.print(f"  Please look: {warning}")


def state(console: Console, told: State) -> None:
    """The whole state of a workspace."""
    title = f"{told.school_name}{' - a demo' if told.is_demo else ''}"
    console.print(f"{title}\nWorkspace: {told.workspace}", soft_wrap=True)
    _state_build(console, told)
    if not told.files:
        console.print("\nNothing has been loaded yet. Next: roundelay load <your files>")
        return
    _state_files(console, told)
    _state_fresh(console, told)
    _state_reasons(console, told)


def _state_build(console: Console, told: State) -> None:
    if told.current is None:
        console.print("Shown: nothing yet.")
    else:
        console.print(f"Shown: build {told.current}, as of {told.as_of_on}, made {told.built_at}")
        others = [name for name in told.builds if name != told.current]
        console.print(f"Kept to go back to: {', '.join(others) or 'none'}")
    if told.current and told.new_files:
        console.print(f"New since then: {len(told.new_files)} file(s). Next: roundelay build")
    if told.waiting:
        console.print(f"Waiting in the inbox: {', '.join(told.waiting)}. Next: roundelay load")


def _state_files(console: Console, told: State) -> None:
    table = _table("File", "What it is", "Result", *_COUNTS, "Balance", title="What came in")
    for line in told.files:
        counts = (line.received, line.accepted, line.known, line.quarantined, line.refused)
        result = _STATUS.get(line.status, line.status)
        is_right = "yes" if line.balances else "NO"
        table.add_row(line.file_name, line.feed, result, *map(str, counts), is_right)
    console.print()
    console.print(table)
    console.print(
        "Every file balances: received = accepted + known + set aside + refused."
        if told.balances
        else "A file does not balance: please show this to whoever looks after the workspace."
    )


def _state_fresh(console: Console, told: State) -> None:
    table = _table("What it is", "Last received", "Files", "Rows", title="How fresh")
    for one in told.fresh:
        table.add_row(
            one.feed, _moment(one.last_received_at), str(one.file_count), str(one.row_count)
        )
    console.print()
    console.print(table)


def _state_reasons(console: Console, told: State) -> None:
    if not told.reasons:
        console.print("\nNothing was refused or set aside.")
        return
    console.print(f"\nRefused or set aside, and why ({told.held_count} rows are held):")
    for one in told.reasons:
        line = f", first in line {one.first_line}" if one.first_line else ""
        verdict = _VERDICTS.get(one.verdict, one.verdict)
        console.print(f"  {one.file_name} ({one.feed}): {verdict}, {one.count} x {one.rule}{line}")
        console.print(f"    {one.message} What to do: {one.remedy}")


def _moment(moment: datetime) -> str:
    return moment.strftime("%Y-%m-%d %H:%M UTC")


def _table(*columns: str, title: str | None = None) -> Table:
    table = Table(title=title, title_justify="left", box=None, pad_edge=False)
    for column in columns:
        is_count = column in (*_COUNTS, "Files", "Rows")
        table.add_column(column, justify="right" if is_count else "left", overflow="fold")
    return table
