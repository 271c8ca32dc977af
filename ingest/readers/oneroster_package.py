"""The zip of a OneRoster set: which standard files it holds and where they stand in it."""

import csv
import hashlib
import io
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from ingest.findings import Finding
from ingest.readers.oneroster_files import VERSIONS, standard_files

KNOWN_FILES = frozenset(
    {"manifest"}.union(*(standard_files(version).keys() for version in VERSIONS))
)
_SIGNATURE = ("enrollments", "users", "classes")
_CHUNK = 1 << 20


@dataclass(frozen=True)
class Package:
    """A received zip: its shown name, the hash of its bytes, and the member of each file."""

    path: Path
    name: str
    hash: str
    members: Mapping[str, str]
    findings: tuple[Finding, ...]

    def shown(self, file: str) -> str:
        """Return how a clerk sees a file of the set, e.g. `roster.zip/users.csv`."""
        return f"{self.name}/{file}.csv"

    def member_hash(self, file: str) -> str:
        """Return the hash that the ledger keeps for one file of the set."""
        return f"{self.hash}/{file}.csv"


def is_oneroster(path: Path) -> bool:
    """Tell whether a file is a OneRoster zip, without reading more than its list of members.

    A zip with a manifest and one roster file is one, and so is a zip of all three central roster
    files without a manifest: the reader then says that the manifest is missing.
    """
    if not zipfile.is_zipfile(path):
        return False
    try:
        with zipfile.ZipFile(path) as archive:
            names = {name for name, _ in _known_members(archive)}
            if "manifest" in names and names & set(_SIGNATURE):
                return True
            return names.issuperset(_SIGNATURE) and _has_sourced_ids(archive)
    except (zipfile.BadZipFile, OSError, RuntimeError, UnicodeDecodeError):
        return False


def open_package(path: Path) -> Package:
    """Find the standard files of a zip; files in a folder and other spellings are warned about.

    Raises `zipfile.BadZipFile` for a file that is no zip: ask `is_oneroster` first.
    """
    with path.open("rb") as stream:
        digest = hashlib.file_digest(stream, "sha256").hexdigest()
    members: dict[str, str] = {}
    findings: list[Finding] = []
    with zipfile.ZipFile(path) as archive:
        for name, member in _known_members(archive):
            findings += _placement(path.name, name, member)
            if name in members:
                findings.append(_twice(path.name, members[name], member))
            members[name] = member
    return Package(path, path.name, digest, members, tuple(findings))


def read_rows(archive: zipfile.ZipFile, member: str) -> Iterator[list[str]]:
    """Yield the rows of a small member; the byte-order mark is dropped."""
    with archive.open(member) as raw:
        yield from csv.reader(io.TextIOWrapper(raw, encoding="utf-8-sig", newline=""))


def _known_members(archive: zipfile.ZipFile) -> Iterator[tuple[str, str]]:
    """Yield (standard name, member) of each member that bears a standard file's name."""
    by_lower = {name.lower(): name for name in KNOWN_FILES}
    for member in archive.namelist():
        place = PurePosixPath(member)
        if "__MACOSX" in place.parts or place.suffix.lower() != ".csv":
            continue
        name = by_lower.get(place.stem.lower())
        if name is not None:
            yield name, member


def _has_sourced_ids(archive: zipfile.ZipFile) -> bool:
    """Tell whether the central files have the standard's key column."""
    members = dict(_known_members(archive))
    return all("sourcedId" in next(read_rows(archive, members[name]), []) for name in _SIGNATURE)


def _placement(zip_name: str, name: str, member: str) -> list[Finding]:
    """Warn of a file inside a folder or with another spelling of its name."""
    place = PurePosixPath(member)
    findings = []
    if len(place.parts) > 1:
        findings.append(
            Finding(
                rule="oneroster_not_at_top",
                verdict="warn",
                file_name=f"{zip_name}/{member}",
                line=None,
                column=None,
                value=None,
                message=f"{place.name} stands in the folder {place.parent} inside the zip.",
                remedy="It was read. Ask for a zip with the files at its top, in no folder.",
            )
        )
    if place.name != f"{name}.csv":
        findings.append(
            Finding(
                rule="oneroster_file_spelling",
                verdict="warn",
                file_name=f"{zip_name}/{member}",
                line=None,
                column=None,
                value=place.name,
                message=f"The file is called {place.name}; the standard writes {name}.csv.",
                remedy=f"It was read. Ask for the exact name {name}.csv.",
            )
        )
    return findings


def _twice(zip_name: str, first: str, second: str) -> Finding:
    """Refuse a set that holds the same file twice: which one counts cannot be known."""
    return Finding(
        rule="oneroster_file_twice",
        verdict="refuse",
        file_name=f"{zip_name}/{second}",
        line=None,
        column=None,
        value=None,
        message=f"The zip holds the same file twice: {first} and {second}.",
        remedy="Ask for one roster in a zip, each file once and at the top of the zip.",
    )
