"""Writes a new settings file: what was given, and every default as a comment with its source."""

import json

import tomlkit
from tomlkit.items import Table

from ingest import settings_sign_in, settings_watch
from ingest.settings import READERS
from ingest.thresholds import THRESHOLDS


def new_file(school_id: str, school_name: str, time_zone: str, is_demo: bool = False) -> str:
    """The text of a new settings file: what was given, and every default as a comment."""
    document = tomlkit.document()
    document.add(
        tomlkit.comment("Settings of this workspace. Change a value, then: roundelay build")
    )
    school = tomlkit.table()
    school.update({"id": school_id, "name": school_name, "time_zone": time_zone})
    if is_demo:
        school.add("demo", tomlkit.item(True).comment("invented school: the page lets you switch"))
    document.add("school", school)
    for name, table in (
        ("retention", _commented(_RETENTION_LINES)),
        ("roster", _commented(_ROSTER_LINES)),
        ("readers", _commented([(n, json.dumps(list(p)), "may read") for n, p in READERS.items()])),
        ("sign_in", _commented(settings_sign_in.LINES)),
        ("watch", _commented(settings_watch.LINES)),
        ("thresholds", _threshold_table()),
    ):
        document.add(tomlkit.nl())
        document.add(name, table)
    return tomlkit.dumps(document)


_RETENTION_LINES = [
    ("keep_builds", "5", "published builds kept to go back to"),
    (
        "keep_rounds_days",
        "60",
        "days after which the round of a class nobody draws in is forgotten",
    ),
]
_ROSTER_LINES = [
    (
        "end_dates",
        '"auto"',
        "last_day: the last day in class; day_after: the first day no longer in",
    ),
    ("equity_reports", "false", "true also reads the demographics file of a roster"),
]


def _commented(lines: list[tuple[str, str, str]]) -> Table:
    table = tomlkit.table()
    for name, value, note in lines:
        table.add(tomlkit.comment(f"{name} = {value}  # {note}"))
    return table


def _threshold_table() -> Table:
    table = tomlkit.table()
    table.add(tomlkit.comment("Remove the # before a name to set your own value."))
    for one in THRESHOLDS.values():
        table.add(tomlkit.nl())
        table.add(tomlkit.comment(one.description))
        table.add(tomlkit.comment(f"  from: {one.source_note}"))
        table.add(tomlkit.comment(f"{one.name} = {one.default:g}"))
    return table
