"""What the OneRoster standard says about each file: its columns in order, and what we need.

Source: 1EdTech OneRoster CSV Tables 1.1.1 and CSV Binding 1.2.1 (both 22 August 2023). The column
lists were compared with public files written to the standard; which columns are needed is ours.
"""

from collections.abc import Mapping
from dataclasses import dataclass

COMMON = ("sourcedId", "status", "dateLastModified")
VERSIONS = ("1.1", "1.2")
EXTENSION = "metadata."
# Our own extension of classes.csv: full_day, am, pm or alternate.
SESSION_PATTERN = "metadata.sessionPattern"
MODES = ("absent", "bulk", "delta")

# The feed that is made of each file; courses and roles only complete another file's rows.
FEED_OF_FILE: Mapping[str, str] = {
    "orgs": "schools",
    "academicSessions": "terms",
    "classes": "classes",
    "users": "people",
    "enrollments": "memberships",
}
SERVES_FILE: Mapping[str, str] = {"courses": "classes", "roles": "users"}


@dataclass(frozen=True)
class StandardFile:
    """One file of the standard.

    `columns` stand in the standard's order. Without a column of `needed` nothing can be made of the
    file. Only the columns of `kept` are ever written to disk, here or in the archive.
    """

    name: str
    columns: tuple[str, ...]
    needed: frozenset[str]
    kept: frozenset[str]


def _file(name: str, columns: str, needed: str, kept: str | None = None) -> StandardFile:
    """Describe one file in words separated by spaces; without `kept` every column is kept."""
    return StandardFile(
        name=name,
        columns=COMMON + tuple(columns.split()),
        needed=frozenset(("sourcedId", *needed.split())),
        kept=frozenset((*COMMON, *(columns if kept is None else kept).split())),
    )


# A keep-list and not a drop-list: a column that an exporter adds tomorrow is left out today.
# It leaves out password, sms, phone, email, agentSourcedIds, and also username, userIds, identifier
# (often an address or a national number) and every metadata column of a person.
_USERS_KEPT = (
    "enabledUser orgSourcedIds role givenName familyName grades preferredGivenName "
    "preferredFamilyName primaryOrgSourcedId"
)

_SHARED = (
    _file("orgs", "name type identifier parentSourcedId", "name type"),
    _file(
        "academicSessions",
        "title type startDate endDate parentSourcedId schoolYear",
        "title type startDate endDate",
    ),
    _file(
        "courses",
        "schoolYearSourcedId title courseCode grades orgSourcedId subjects subjectCodes",
        "",
    ),
    _file(
        "classes",
        "title grades courseSourcedId classCode classType location schoolSourcedId "
        "termSourcedIds subjects subjectCodes periods",
        "title classType schoolSourcedId termSourcedIds",
        "title grades courseSourcedId classCode classType schoolSourcedId termSourcedIds "
        f"periods {SESSION_PATTERN}",
    ),
    _file(
        "enrollments",
        "classSourcedId schoolSourcedId userSourcedId role primary beginDate endDate",
        "classSourcedId userSourcedId role",
    ),
    # Read by nothing yet, and opened only for a school that turned equity reports on. Country,
    # state and city of birth are never kept.
    _file(
        "demographics",
        "birthDate sex americanIndianOrAlaskaNative asian blackOrAfricanAmerican "
        "nativeHawaiianOrOtherPacificIslander white demographicRaceTwoOrMoreRaces "
        "hispanicOrLatinoEthnicity countryOfBirthCode stateOfBirthAbbreviation cityOfBirth "
        "publicSchoolResidenceStatus",
        "",
        "birthDate sex americanIndianOrAlaskaNative asian blackOrAfricanAmerican "
        "nativeHawaiianOrOtherPacificIslander white demographicRaceTwoOrMoreRaces "
        "hispanicOrLatinoEthnicity",
    ),
)

_USERS_1_1 = _file(
    "users",
    "enabledUser orgSourcedIds role username userIds givenName familyName middleName identifier "
    "email sms phone agentSourcedIds grades password",
    "role givenName familyName",
    _USERS_KEPT,
)

# 1.2 moved the role of a user to roles.csv, one row per role and organisation.
_USERS_1_2 = _file(
    "users",
    "enabledUser username userIds givenName familyName middleName identifier email sms phone "
    "agentSourcedIds grades password userMasterIdentifier resourceSourcedIds preferredGivenName "
    "preferredMiddleName preferredFamilyName primaryOrgSourcedId pronouns",
    "givenName familyName",
    _USERS_KEPT,
)
_ROLES_1_2 = _file(
    "roles",
    "userSourcedId roleType role beginDate endDate orgSourcedId userProfileSourcedId",
    "userSourcedId role",
    "userSourcedId roleType role beginDate endDate orgSourcedId",
)


def standard_files(version: str) -> dict[str, StandardFile]:
    """Return the files that are read, by name, for a version of `VERSIONS`."""
    own = (_USERS_1_1,) if version == "1.1" else (_USERS_1_2, _ROLES_1_2)
    return {file.name: file for file in (*_SHARED, *own)}


def wanted_files(version: str, equity_reports: bool) -> dict[str, StandardFile]:
    """Return the files that may be opened at all: demographics only with equity reports."""
    files = standard_files(version)
    if not equity_reports:
        del files["demographics"]
    return files


def needed_files(version: str) -> tuple[str, ...]:
    """Return the files without which a complete (bulk) roster cannot be read."""
    return (*FEED_OF_FILE, "roles") if version == "1.2" else tuple(FEED_OF_FILE)
