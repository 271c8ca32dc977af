"""How the end dates of a OneRoster set are meant, and whether its school years fit its dates.

The standard says that an end date is the first day after ("The end date for the enrollment
(exclusive)", OneRoster 1.1 and 1.2 information model, as repeated in public implementations; the
same for sessions, from memory). Many exporters write the last day itself. Neither can be seen in
one row, so the rows beside it are asked.
"""

from dataclasses import dataclass

import duckdb

from ingest.findings import Finding
from ingest.readers.oneroster_package import Package

CHOICES = ("auto", "day_after", "last_day")

# Dates are taken only in the standard's form; anything else goes on as it came, to be set aside.
DATE_MACRO = """
create or replace macro iso_date(written) as
    case when regexp_full_match(trim(written), '\\d{4}-\\d{2}-\\d{2}')
        then try_cast(trim(written) as date) end
"""

_SESSION_PAIRS = """
with siblings as (
    select
        iso_date("endDate") as end_on,
        lead(iso_date("startDate")) over (
            partition by coalesce("parentSourcedId", ''), lower(trim(type))
            order by iso_date("startDate"), iso_date("endDate")
        ) as next_on
    from "academicSessions"
)
select count(*) filter (where next_on = end_on), count(*) filter (where next_on = end_on + 1)
from siblings
"""

_STAY_PAIRS = """
with stays as (
    select
        iso_date(enrollments."endDate") as end_on,
        lead(iso_date(enrollments."beginDate")) over (
            partition by enrollments."userSourcedId"
            order by iso_date(enrollments."beginDate"), iso_date(enrollments."endDate")
        ) as next_on
    from enrollments
    inner join kept_classes on enrollments."classSourcedId" = kept_classes.class_id
    where lower(trim(enrollments.role)) = 'student'
)
select count(*) filter (where next_on = end_on), count(*) filter (where next_on = end_on + 1)
from stays
"""

# Only the end of the latest session of a school year can contradict its number, and a set that
# holds the first term alone cannot: one year of slack below.
_YEARS = """
select
    "schoolYear",
    max(year(iso_date("endDate"))) as last_year,
    min(line_number) as first_line,
    count(*) as row_count
from "academicSessions"
where "schoolYear" is not null
group by "schoolYear"
having try_cast("schoolYear" as integer) is null
    or not regexp_full_match("schoolYear", '\\d{4}')
    or max(year(iso_date("endDate"))) > try_cast("schoolYear" as integer)
    or max(year(iso_date("endDate"))) < try_cast("schoolYear" as integer) - 1
order by first_line
"""


@dataclass(frozen=True)
class EndDates:
    """Whether sessions and enrolments write the first day after (exclusive) as their end."""

    sessions_exclusive: bool
    enrollments_exclusive: bool
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class _Evidence:
    """Neighbouring rows where the next begins on the end date, and where on the day after."""

    exclusive: int
    inclusive: int

    @property
    def says_exclusive(self) -> bool | None:
        """Return what most neighbours say; None when they say nothing or the same number both."""
        if self.exclusive == self.inclusive:
            return None
        return self.exclusive > self.inclusive


def decide_end_dates(
    connection: duckdb.DuckDBPyConnection, package: Package, choice: str, loaded: frozenset[str]
) -> EndDates:
    """Decide, by the setting or by the neighbours, and say in a finding which way was taken.

    Needs the tables `academicSessions`, `enrollments` and `kept_classes`. A file whose own rows
    say nothing follows the other file; when neither says anything, the standard is followed.
    """
    sessions = _evidence(connection, _SESSION_PAIRS)
    stays = _evidence(connection, _STAY_PAIRS)
    files = (("academicSessions", sessions, stays), ("enrollments", stays, sessions))
    taken: dict[str, bool] = {}
    findings = []
    for file, own, other in files:
        exclusive, reason = _decide(choice, own, other)
        taken[file] = exclusive
        if file in loaded and _has_end_dates(connection, file):
            findings.append(_say(package.shown(file), exclusive, reason))
    return EndDates(taken["academicSessions"], taken["enrollments"], tuple(findings))


def check_school_years(connection: duckdb.DuckDBPyConnection, shown: str) -> list[Finding]:
    """Warn when schoolYear is not the year in which the school year ends."""
    return [
        Finding(
            rule="oneroster_school_year",
            verdict="warn",
            file_name=shown,
            line=line,
            column="schoolYear",
            value=year,
            message=(
                f"schoolYear does not fit: the sessions with it end in {last_year or 'no year'}. "
                "The standard means the year, in four digits, in which the school year ends."
            ),
            remedy="The dates count. Ask for schoolYear as the year it ends (2026 for 2025-26).",
            count=count,
        )
        for year, last_year, line, count in connection.execute(_YEARS).fetchall()
    ]


def _evidence(connection: duckdb.DuckDBPyConnection, statement: str) -> _Evidence:
    """Count the neighbours of one file."""
    row = connection.execute(statement).fetchone()
    return _Evidence(0, 0) if row is None else _Evidence(int(row[0]), int(row[1]))


def _decide(choice: str, own: _Evidence, other: _Evidence) -> tuple[bool, str]:
    """Return whether the end is exclusive and why."""
    if choice != "auto":
        return choice == "day_after", "the settings say so"
    for evidence, whose in ((own, ""), (other, " in the other file")):
        says = evidence.says_exclusive
        if says is not None:
            votes = evidence.exclusive if says else evidence.inclusive
            total = evidence.exclusive + evidence.inclusive
            where = "on that date" if says else "on the day after that date"
            return says, f"{votes} of {total} neighbours{whose} begin {where}"
    return True, "no two rows touch, and this is what the standard says"


def _has_end_dates(connection: duckdb.DuckDBPyConnection, file: str) -> bool:
    """Tell whether a file has any end date to be read one way or the other."""
    row = connection.execute(f'select count("endDate") from "{file}"').fetchone()
    return row is not None and row[0] > 0


def _say(shown: str, exclusive: bool, reason: str) -> Finding:
    """State which way was taken; the school may know better."""
    meaning = "the first day after" if exclusive else "the last day itself"
    return Finding(
        rule="oneroster_end_dates",
        verdict="warn",
        file_name=shown,
        line=None,
        column="endDate",
        value=None,
        message=f"endDate was read as {meaning}: {reason}.",
        remedy=(
            f'If that is wrong, set end_dates = "{"last_day" if exclusive else "day_after"}" under '
            "[roster] in the settings and load the zip again."
        ),
    )
