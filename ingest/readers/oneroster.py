"""Reads a 1EdTech OneRoster CSV zip (1.1 or 1.2, whole or changes) into five feeds.

A set is one document: a fault in one of its files refuses all of them, because a roster with a hole
would end memberships that go on. Passwords, addresses, phone numbers and everything else that is
not needed never reach the disk (`oneroster_files`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import duckdb

from ingest.findings import Finding
from ingest.readers import oneroster_left_out as left_out
from ingest.readers import oneroster_mapping as mapping
from ingest.readers.oneroster_absent import Landed, absent_table
from ingest.readers.oneroster_dates import (
    CHOICES,
    DATE_MACRO,
    check_school_years,
    decide_end_dates,
)
from ingest.readers.oneroster_files import FEED_OF_FILE, SERVES_FILE, standard_files
from ingest.readers.oneroster_manifest import Manifest, read_manifest
from ingest.readers.oneroster_members import LINE, Member, empty_table, load_member
from ingest.readers.oneroster_package import Package, is_oneroster, open_package
from ingest.readers.oneroster_status import check_status
from ingest.readers.oneroster_strip import stripped_copy
from ingest.readers.table import Table

__all__ = ["Landed", "RosterOptions", "is_oneroster", "read", "stripped_copy"]

CLASS_TYPES = ("homeroom", "scheduled")


@dataclass(frozen=True)
class RosterOptions:
    """How a school wants its roster read.

    `end_dates`: auto tells from the rows whether an end date is the `last_day` itself or the
    `day_after`. `class_types`: which of homeroom and scheduled are classes here. `school_ids`: the
    schools already known, for a set of changes that names none. `landed`: what was landed before,
    so that a complete set ends what it no longer lists; leave it out for a set that was here
    already. Demographics are opened for
    nothing yet; `equity_reports` decides whether they stay in the archived copy.
    """

    end_dates: str = "auto"
    class_types: tuple[str, ...] = ("homeroom",)
    school_ids: tuple[str, ...] = ()
    equity_reports: bool = False
    landed: Landed | None = None

    def __post_init__(self) -> None:
        if self.end_dates not in CHOICES:
            raise ValueError(f"end_dates is {self.end_dates!r}; it must be one of {CHOICES}")
        if not self.class_types or not set(self.class_types) <= set(CLASS_TYPES):
            raise ValueError(f"class_types is {self.class_types!r}; choose from {CLASS_TYPES}")


def read(path: Path, scratch: Path, options: RosterOptions | None = None) -> list[Table]:
    """Read a OneRoster zip into one table for each feed that it has a file for.

    Files for DuckDB are written into `scratch`, with the line of the zip's file in the column
    `line_number`. A set that is refused comes back with its tables (so that its rows can be
    counted) or, when nothing could be read, with one empty table; their findings say why.
    """
    options = options or RosterOptions()
    package = open_package(path)
    manifest, findings = read_manifest(package)
    findings = [*package.findings, *findings]
    if manifest is None or any(finding.verdict == "refuse" for finding in findings):
        return [_nothing_read(package, scratch, tuple(findings))]
    with duckdb.connect() as connection:
        connection.execute(DATE_MACRO)
        members = _load_all(connection, package, manifest, scratch)
        findings += [finding for member in members.values() for finding in member.findings]
        queries, more = _interpret(connection, package, manifest, members, options)
        sent = [file for file in FEED_OF_FILE if file in members]
        if not sent:
            return [_nothing_read(package, scratch, (*findings, _no_roster_file(package)))]
        tables = [_write(connection, package, file, queries, scratch) for file in sent]
        if options.landed and manifest.modes["enrollments"] == manifest.modes["classes"] == "bulk":
            gone = absent_table(
                connection, package, queries["memberships"], options.landed, scratch
            )
            # Before the others of its feed: a child who changed class has left the old one first.
            tables = [*tables[:-1], gone, tables[-1]] if gone else tables
    return _attach(package, tables, [*findings, *more])


def _load_all(
    connection: duckdb.DuckDBPyConnection, package: Package, manifest: Manifest, scratch: Path
) -> dict[str, Member]:
    """Load the files that the manifest sends; the others become empty tables."""
    members = {}
    for name, file in standard_files(manifest.version).items():
        # Demographics serve no feed yet: what nobody uses is not opened.
        if manifest.sends(name) and name != "demographics":
            members[name] = load_member(connection, package, file, scratch)
        else:
            empty_table(connection, file)
    return members


def _interpret(
    connection: duckdb.DuckDBPyConnection,
    package: Package,
    manifest: Manifest,
    members: Mapping[str, Member],
    options: RosterOptions,
) -> tuple[dict[str, str], list[Finding]]:
    """Check the rows of the set and prepare the statement of each feed."""
    findings: list[Finding] = []
    for name, member in members.items():
        shown = package.shown(name)
        findings += check_status(connection, member.file, manifest.modes[name], shown)
    choices = mapping.Choices(
        version=manifest.version,
        class_types=options.class_types,
        school_ids=options.school_ids,
        has_classes="classes" in members,
    )
    mapping.prepare(connection, choices)
    mapping.keep_classes(connection, choices)
    ends = decide_end_dates(connection, package, options.end_dates, frozenset(members))
    findings += ends.findings
    findings += check_school_years(connection, package.shown("academicSessions"))
    findings += left_out.no_class_left(connection, package)
    findings += left_out.notes(connection, package, manifest.modes)
    return mapping.statements(choices, ends), findings


def _write(
    connection: duckdb.DuckDBPyConnection,
    package: Package,
    file: str,
    queries: Mapping[str, str],
    scratch: Path,
) -> Table:
    """Write the rows of one feed as a text that DuckDB reads again."""
    feed = FEED_OF_FILE[file]
    target = scratch / f"{feed}.csv"
    relation = connection.sql(f"select * from ({queries[feed]}) order by {LINE}")
    header = tuple(relation.columns)
    connection.execute(
        f"copy (select * from ({queries[feed]}) order by {LINE}) "
        "to $target (format csv, header true, delimiter ',', quote '\"', nullstr '')",
        {"target": str(target)},
    )
    return Table(
        feed=feed,
        file_name=package.shown(file),
        file_hash=package.member_hash(file),
        path=target,
        delimiter=",",
        header=header,
        line_column=LINE,
    )


def _attach(package: Package, tables: list[Table], findings: list[Finding]) -> list[Table]:
    """Give each finding to the table of its file, or to the first; a refusal refuses all."""
    home = {package.shown(helper): package.shown(file) for helper, file in SERVES_FILE.items()}
    names = {table.file_name for table in tables}
    placed: dict[str, list[Finding]] = {table.file_name: [*table.findings] for table in tables}
    for finding in findings:
        name = home.get(finding.file_name, finding.file_name)
        placed[name if name in names else tables[0].file_name].append(finding)
    refused = next((finding for finding in findings if finding.verdict == "refuse"), None)
    for name, own in placed.items():
        if refused and all(finding.verdict != "refuse" for finding in own):
            own.append(_refused_with(name, refused))
    return [replace(table, findings=tuple(placed[table.file_name])) for table in tables]


def _refused_with(shown: str, refused: Finding) -> Finding:
    """Refuse a sound file of a set with a faulty one."""
    return Finding(
        rule="oneroster_set_refused",
        verdict="refuse",
        file_name=shown,
        line=None,
        column=None,
        value=None,
        message=f"Nothing of the roster was loaded, because of a fault in {refused.file_name}.",
        remedy="Nothing to do for this file: correct the other one and load the zip again.",
    )


def _no_roster_file(package: Package) -> Finding:
    """Refuse a set without any of the files that make a roster."""
    return Finding(
        rule="oneroster_file_missing",
        verdict="refuse",
        file_name=package.shown("manifest"),
        line=None,
        column=None,
        value=None,
        message="The set has none of the files that a roster is made of.",
        remedy=f"Ask for a set with {', '.join(f'{file}.csv' for file in FEED_OF_FILE)}.",
    )


def _nothing_read(package: Package, scratch: Path, findings: tuple[Finding, ...]) -> Table:
    """Return an empty table that carries the reasons why nothing could be read."""
    target = scratch / "schools.csv"
    target.write_text("school_id,name,parent_id,line_number\n", encoding="utf-8")
    return Table(
        feed="schools",
        file_name=package.shown("manifest"),
        file_hash=package.member_hash("manifest"),
        path=target,
        delimiter=",",
        header=("school_id", "name", "parent_id", LINE),
        line_column=LINE,
        findings=findings,
    )
