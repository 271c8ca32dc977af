"""What a OneRoster set holds that is not taken over, said with counts.

Messages never repeat what a cell holds, only words of the standard.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import duckdb

from ingest.findings import Finding
from ingest.readers.oneroster_files import FEED_OF_FILE
from ingest.readers.oneroster_package import Package


@dataclass(frozen=True)
class _Note:
    """A count of rows of one file, and the sentence that goes with it."""

    file: str
    rule: str
    column: str
    query: str
    message: str
    remedy: str


# Each query gives: how many rows, the line of the first, words for the message.
_NOTES = (
    _Note(
        file="classes",
        rule="oneroster_class_type_left_out",
        column="classType",
        query="""
            select
                count(*),
                min(line_number),
                if(bool_or("classType" ilike 'scheduled'), 'scheduled', 'unknown')
            from classes where "sourcedId" not in (select class_id from kept_classes)
        """,
        message="{count} classes of another type ({words}) and their enrolments were left out.",
        remedy=(
            "Only the class types chosen for this workspace are taken (homeroom unless set "
            "otherwise). Choose more if children are taught as one class in these."
        ),
    ),
    _Note(
        file="users",
        rule="oneroster_people_left_out",
        column="role",
        query="""
            select
                count(*),
                min(users.line_number),
                string_agg(distinct written_roles, ', ' order by written_roles)
            from users left join person_roles on users."sourcedId" = person_roles.user_id
            where person_roles.role is null
        """,
        message="{count} people who are neither pupils nor staff ({words}) were left out.",
        remedy=(
            "This is right for guardians. For pupils, teachers, aides and leaders ask for their "
            "role in the standard's words."
        ),
    ),
    _Note(
        file="users",
        rule="oneroster_several_roles",
        column="role",
        query="""
            select count(*), min(users.line_number), 'teacher, aide, leader, student'
            from users
            inner join person_roles on users."sourcedId" = person_roles.user_id
            where person_roles.role_count > 1
        """,
        message="{count} people have several roles; the primary or the first of {words} counts.",
        remedy="Nothing to do when that is right. In a class they keep the role they have there.",
    ),
    _Note(
        file="enrollments",
        rule="oneroster_enrolments_left_out",
        column="role",
        query="""
            select count(*), min(line_number), string_agg(distinct enrollments.role, ', ')
            from enrollments
            left join person_roles on enrollments."userSourcedId" = person_roles.user_id
            where lower(trim(enrollments.role)) = 'administrator'
                or (
                    lower(trim(enrollments.role)) = 'proctor'
                    and person_roles.role is distinct from 'aide'
                )
        """,
        message="{count} enrolments ({words}) were left out: neither pupil, teacher nor aide.",
        remedy="Nothing to do. An aide is enrolled as teacher or proctor and has the role aide.",
    ),
    _Note(
        file="enrollments",
        rule="oneroster_dates_of_class",
        column="beginDate",
        query="""
            select count(*), min(enrollments.line_number), 'beginDate, endDate'
            from enrollments
            inner join kept_classes on enrollments."classSourcedId" = kept_classes.class_id
            where ("beginDate" is null and kept_classes.first_on is not null)
                or ("endDate" is null and kept_classes.end_on is not null)
        """,
        message="{count} enrolments lack {words}: the dates of the class's sessions were taken.",
        remedy="Ask for both dates, so that children who move in or out mid-term count rightly.",
    ),
)

# Nothing is deleted: what a deleted class or person was part of ends with its enrolments.
_DELETED = _Note(
    file="",
    rule="oneroster_deleted_record",
    column="status",
    query="""
        select count(*), min(line_number), 'tobedeleted'
        from "{file}" where lower(trim(status)) = 'tobedeleted'
    """,
    message="{count} records are marked {words}; what is stored of them stays.",
    remedy="Nothing to do: a class or person ends with the end of its enrolments.",
)

_NO_CLASS = _Note(
    file="classes",
    rule="oneroster_no_homerooms",
    column="classType",
    query="""
        select if(kept_count = 0, row_count, 0), first_line, types from (
            select
                (select count(*) from kept_classes) as kept_count,
                count(*) as row_count,
                min(line_number) as first_line,
                if(bool_or("classType" ilike 'scheduled'), 'scheduled', 'unknown') as types
            from classes
        )
    """,
    message="None of the {count} classes ({words}) is of a class type that this workspace takes.",
    remedy="Ask for homerooms in the roster, or choose the class type scheduled as well.",
)


def notes(
    connection: duckdb.DuckDBPyConnection, package: Package, modes: Mapping[str, str]
) -> list[Finding]:
    """Return a warning for each kind of row that was left out or completed, with the counts."""
    deleted = [
        replace(_DELETED, file=file, query=_DELETED.query.format(file=file))
        for file in FEED_OF_FILE
        if file != "enrollments" and modes.get(file) == "delta"
    ]
    found = (_ask(connection, package, note, "warn") for note in (*_NOTES, *deleted))
    return [finding for finding in found if finding is not None]


def no_class_left(connection: duckdb.DuckDBPyConnection, package: Package) -> list[Finding]:
    """Refuse classes of which none is of a chosen type: loading nothing would look like success."""
    finding = _ask(connection, package, _NO_CLASS, "refuse")
    return [] if finding is None else [finding]


def _ask(
    connection: duckdb.DuckDBPyConnection, package: Package, note: _Note, verdict: str
) -> Finding | None:
    """Count the rows of a note; none when there are none."""
    count, line, words = connection.execute(note.query).fetchone() or (0, None, None)
    if not count:
        return None
    return Finding(
        rule=note.rule,
        verdict=verdict,
        file_name=package.shown(note.file),
        line=line,
        column=note.column,
        value=None,
        message=note.message.format(count=count, words=words or "none given"),
        remedy=note.remedy,
        count=count,
    )
