"""A zip of tables: opened with care, for a zip may claim any name and any size."""

import stat
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path, PurePosixPath

from ingest.contracts import Contract
from ingest.findings import Finding, generic
from ingest.readers import delimited, sheets
from ingest.readers.table import Table

TEXT_SUFFIXES = (".csv", ".tsv", ".txt")
ARCHIVE_SUFFIXES = (".zip", ".gz", ".7z", ".rar", ".tar", ".bz2", ".xz")
MOST_MEMBERS = 500
MOST_BYTES = 16 << 30
# Tables of text shrink to a fiftieth at best; what shrinks more is made to overflow a disk.
MOST_RATIO, RATIO_MATTERS_FROM = 500, 32 << 20
_CHUNK = 1 << 20
_LITTER = ("__MACOSX/", ".DS_Store", "Thumbs.db", "desktop.ini")


def danger(archive: zipfile.ZipFile) -> str:
    """Why a zip is not opened, in words for {detail}; empty when it may be."""
    members = archive.infolist()
    if len(members) > MOST_MEMBERS:
        return f"it holds more than {MOST_MEMBERS} files."
    if sum(one.file_size for one in members) > MOST_BYTES:
        return "what it holds is too large."
    for one in members:
        reason = _danger_of(one)
        if reason:
            return reason
    return ""


def _danger_of(member: zipfile.ZipInfo) -> str:
    parts = PurePosixPath(member.filename.replace("\\", "/"))
    if parts.is_absolute() or ".." in parts.parts or ":" in member.filename:
        return "a file in it wants to be written outside of its folder."
    if stat.S_ISLNK(member.external_attr >> 16):
        return "a file in it is a link to somewhere else."
    if member.flag_bits & 1:
        return "it is locked with a password."
    ratio = member.file_size / max(1, member.compress_size)
    if member.file_size > RATIO_MATTERS_FROM and ratio > MOST_RATIO:
        return "a file in it grows far too much when it is unpacked."
    return ""


def read(path: Path, scratch: Path, contracts: Mapping[str, Contract]) -> list[Table]:
    """The tables of a zip, each named `zip/member`; one refused table when it is not safe."""
    file_hash = delimited.hash_of(path)
    with zipfile.ZipFile(path) as archive:
        reason = danger(archive)
        members = [] if reason else _members(archive)
        nested = [name for name in members if name.lower().endswith(ARCHIVE_SUFFIXES)]
        if nested:
            reason = "there is another archive inside it."
        if reason:
            return [_refused(path, file_hash, generic("unsafe_archive", path.name, detail=reason))]
        tables: list[Table] = []
        for number, name in enumerate(members):
            tables += _member(archive, name, number, path.name, file_hash, scratch, contracts)
    return tables or [_refused(path, file_hash, generic("empty_file", path.name))]


def _members(archive: zipfile.ZipFile) -> list[str]:
    names = [one.filename for one in archive.infolist() if not one.is_dir()]
    return sorted(name for name in names if not any(litter in name for litter in _LITTER))


def _refused(path: Path, file_hash: str, finding: Finding) -> Table:
    return Table("", path.name, file_hash, path, ",", (), findings=(finding,))


def _member(
    archive: zipfile.ZipFile,
    name: str,
    number: int,
    zip_name: str,
    zip_hash: str,
    scratch: Path,
    contracts: Mapping[str, Contract],
) -> Sequence[Table]:
    shown, file_hash = f"{zip_name}/{name}", f"{zip_hash}/{name}"
    suffix = PurePosixPath(name).suffix.lower()
    # Never the member's own name on disk: a number cannot lead anywhere.
    copy = scratch / f"member-{number}{suffix if suffix in _KNOWN else ''}"
    if suffix not in _KNOWN:
        finding = generic("unknown_feed", shown)
        return [Table("", shown, file_hash, copy, ",", (), findings=(finding,))]
    _extract(archive, name, copy)
    if suffix in sheets.SUFFIXES:
        return sheets.read(copy, scratch, contracts, shown=shown, file_hash=file_hash)
    return [delimited.read(copy, scratch, contracts, shown=shown, file_hash=file_hash)]


def _extract(archive: zipfile.ZipFile, name: str, to: Path) -> None:
    """Unpack no more bytes than the zip's own list says there are."""
    left = archive.getinfo(name).file_size
    with archive.open(name) as source, to.open("wb") as target:
        while block := source.read(_CHUNK):
            left -= len(block)
            if left < 0:
                raise zipfile.BadZipFile("a member is longer than it says")
            target.write(block)


_KNOWN = (*TEXT_SUFFIXES, *sheets.SUFFIXES)
