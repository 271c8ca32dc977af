"""The rows of a OneRoster set as rows of our feeds, one statement a feed.

Keys are the standard's sourcedId as it came. A term's key is `school:session`, always, because a
session belongs to no school in the standard while a term does here. Values are carried over, not
repaired: what the contract does not know is set aside there, with the clerk's own words.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import duckdb

from ingest.readers import oneroster_sql as sql
from ingest.readers.oneroster_dates import EndDates

# People who are no part of a class or its school's staff (guardians, technicians) are left out:
# what is not needed is not kept. Role words: users.role of 1.1; roles.role of 1.2 (from memory).
ROLES: Mapping[str, str] = {
    "student": "student",
    "teacher": "teacher",
    "aide": "aide",
    "administrator": "leader",
    "principal": "leader",
    "siteAdministrator": "leader",
    "districtAdministrator": "leader",
}

OTHER_ROLES = ("guardian", "parent", "relative", "proctor", "counselor", "systemadministrator")


@dataclass(frozen=True)
class Choices:
    """What the mapping depends on beside the rows."""

    version: str
    class_types: Sequence[str]
    school_ids: Sequence[str]
    has_classes: bool


def prepare(connection: duckdb.DuckDBPyConnection, choices: Choices) -> None:
    """Make the helper tables of roles and schools; needs the tables of all files."""
    connection.execute("create or replace table role_map (theirs varchar, ours varchar, rank int)")
    ranks = ("teacher", "aide", "leader", "student")
    connection.executemany(
        "insert into role_map values (?, ?, ?)",
        [(theirs.lower(), ours, ranks.index(ours)) for theirs, ours in ROLES.items()],
    )
    known = ", ".join(f"'{word}'" for word in (*OTHER_ROLES, *map(str.lower, ROLES)))
    source = sql.ROLE_SOURCE[choices.version]
    connection.execute(sql.PERSON_ROLES.format(source=source, known_words=known))
    connection.execute(sql.KNOWN_SCHOOLS, [list(choices.school_ids)])


def home_type(class_types: Sequence[str]) -> str:
    """Return the class type that is a child's home class: homeroom, where it is taken at all."""
    return "homeroom" if "homeroom" in class_types else class_types[0]


def keep_classes(connection: duckdb.DuckDBPyConnection, choices: Choices) -> None:
    """Make `kept_classes`: the classes of the chosen types with the dates of their sessions."""
    listed = ", ".join("'" + kind.lower().replace("'", "''") + "'" for kind in choices.class_types)
    connection.execute(sql.KEPT_CLASSES.format(class_types=listed))


def statements(choices: Choices, ends: EndDates) -> dict[str, str]:
    """Return the statement of each feed: contract columns, then `line_number`."""
    preferred = 'users."preferred{}Name"' if choices.version == "1.2" else "null"
    return {
        "schools": sql.SCHOOLS.format(lives=sql.LIVES.format(file="orgs")),
        "terms": sql.TERMS.format(
            kind=sql.KINDS.format(column="sessions.type"),
            before=1 if ends.sessions_exclusive else 0,
            lives=sql.LIVES.format(file="sessions"),
        ),
        "classes": sql.CLASSES.format(lives=sql.LIVES.format(file="classes")),
        "people": sql.PEOPLE.format(
            preferred_given=preferred.format("Given"),
            preferred_family=preferred.format("Family"),
            lives=sql.LIVES.format(file="users"),
        ),
        "memberships": sql.MEMBERSHIPS.format(
            home=home_type(choices.class_types),
            after=0 if ends.enrollments_exclusive else 1,
            session_after=0 if ends.sessions_exclusive else 1,
            join="inner" if choices.has_classes else "left",
        ),
    }
