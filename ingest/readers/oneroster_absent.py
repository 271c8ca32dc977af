"""Memberships that a complete roster no longer lists: ended on the day it came, to be looked over.

A complete (bulk) set is the whole truth of its day (1EdTech OneRoster CSV Tables 1.1.1, bulk
processing), and exporters commonly list current enrolments only. Nothing is deleted: the membership
gets an end. Whether too many end at once is a rule of the memberships contract.
"""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import duckdb

from ingest.findings import Finding
from ingest.readers.oneroster_members import LINE
from ingest.readers.oneroster_package import Package
from ingest.readers.table import Table

# Aides, coaches and leaders are often kept by hand beside the roster; it is not asked about them.
_ABSENT = """
select
    landed.class_id,
    landed.person_id,
    landed.role,
    landed.begin_on,
    greatest(landed.begin_on::date, $received_on::date)::varchar as end_on,
    landed.is_primary,
    landed.share,
    landed.is_draw_eligible,
    null as {line}
from read_csv($open_memberships, header = true, all_varchar = true) as landed
anti join ({memberships}) as listed
    on landed.class_id = listed.class_id
    and landed.person_id = listed.person_id
    and landed.role = listed.role
where landed.role in ('student', 'teacher')
    and landed.school_id in (select school_id from known_schools)
    and (landed.end_on is null or landed.end_on::date > $received_on::date)
order by landed.class_id, landed.role, landed.person_id, landed.begin_on
"""


@dataclass(frozen=True)
class Landed:
    """The memberships landed before a set came in, and the day it came.

    `open_memberships` is a CSV file with the columns of the memberships and `school_id`.
    """

    open_memberships: Path
    received_on: date


def absent_table(
    connection: duckdb.DuckDBPyConnection,
    package: Package,
    memberships: str,
    landed: Landed,
    scratch: Path,
) -> Table | None:
    """Return the memberships that end because the set does not list them; None when all are there.

    `memberships` is the statement of the set's own rows. Needs the table `known_schools`.
    """
    target = scratch / "memberships_absent.csv"
    query = _ABSENT.format(line=LINE, memberships=memberships)
    values = {
        "open_memberships": landed.open_memberships.as_posix(),
        "received_on": landed.received_on.isoformat(),
    }
    connection.execute(f"create or replace temp table absent as {query}", values)
    relation = connection.table("absent")
    row = connection.execute("select count(*) from absent").fetchone()
    count = 0 if row is None else int(row[0])
    if not count:
        return None
    connection.execute(
        "copy absent to $target (format csv, header true, nullstr '')", {"target": str(target)}
    )
    shown = f"{package.shown('enrollments')} (no longer listed)"
    return Table(
        feed="memberships",
        file_name=shown,
        file_hash=f"{package.member_hash('enrollments')}/absent/{landed.received_on}",
        path=target,
        delimiter=",",
        header=tuple(relation.columns),
        line_column=LINE,
        findings=(_to_review(shown, count),),
    )


def _to_review(shown: str, count: int) -> Finding:
    """Say how many memberships ended by their absence."""
    return Finding(
        rule="oneroster_ended_to_review",
        verdict="warn",
        file_name=shown,
        line=None,
        column="end_on",
        value=None,
        message=(
            f"{count} memberships stood in an earlier roster and not in this complete one; they "
            "end on the day it was received."
        ),
        remedy="Look them over. A child who is still here belongs in the next export.",
        count=count,
    )
