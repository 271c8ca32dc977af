"""Plain text tables: UTF-8, RFC 4180, separated by a comma, a semicolon or a tab."""

import codecs
import hashlib
from collections.abc import Mapping
from pathlib import Path

from ingest.contracts import Contract
from ingest.findings import Finding, generic
from ingest.readers.detect import feed_of, header_findings, looks_foreign, split_header
from ingest.readers.table import Table

_HEADER_BYTES = 1 << 16
_BLOCK = 1 << 22
_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def hash_of(path: Path) -> str:
    """SHA-256 of a file's bytes, in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def read(
    path: Path,
    scratch: Path,
    contracts: Mapping[str, Contract],
    *,
    shown: str | None = None,
    file_hash: str | None = None,
    feed: str | None = None,
) -> Table:
    """Read the header of one text file and say what is wrong with its form.

    `shown` and `file_hash` are given by an archive for its members; `feed` overrides the guess.
    The rows are not read here: DuckDB reads them once, when they are checked.
    """
    name = shown or path.name
    file_hash = file_hash or hash_of(path)
    broken = _damage(path, name)
    if broken:
        return Table(feed or "", name, file_hash, path, ",", (), findings=broken)
    line = _first_line(path)
    delimiter, header = split_header(line, contracts)
    feed = feed or feed_of(Path(name).stem, header, contracts)
    findings = _header_faults(header, feed, contracts, name)
    if not findings and not _has_rows(path):
        findings = (generic("empty_file", name),)
    return Table(feed, name, file_hash, path, delimiter, tuple(header), findings=findings)


def _header_faults(
    header: list[str], feed: str, contracts: Mapping[str, Contract], name: str
) -> tuple[Finding, ...]:
    if looks_foreign(header):
        return (generic("wrong_delimiter", name, line=1),)
    if not feed:
        return (generic("unknown_feed", name, line=1),)
    return header_findings(header, contracts[feed], name)


def _damage(path: Path, name: str) -> tuple[Finding, ...]:
    """What stops a file from being text at all."""
    with path.open("rb") as file:
        start = file.read(_HEADER_BYTES)
    if start.startswith(_UTF16):
        return (generic("wrong_encoding", name),)
    if not start.removeprefix(codecs.BOM_UTF8).strip():
        return (generic("empty_file", name),)
    nul = _position_of_nul(path)
    if nul >= 0:
        return (generic("nul_byte", name, line=_line_at(path, nul)),)
    try:
        codecs.getincrementaldecoder("utf-8-sig")().decode(start)
    except UnicodeDecodeError as fault:
        return (generic("wrong_encoding", name, line=start[: fault.start].count(b"\n") + 1),)
    return ()


def _position_of_nul(path: Path) -> int:
    """Where the first NUL byte stands, -1 without one."""
    before = 0
    with path.open("rb") as file:
        for block in iter(lambda: file.read(_BLOCK), b""):
            found = block.find(b"\0")
            if found >= 0:
                return before + found
            before += len(block)
    return -1


def _line_at(path: Path, position: int) -> int:
    with path.open("rb") as file:
        return file.read(position).count(b"\n") + 1


def _first_line(path: Path) -> str:
    with path.open("rb") as file:
        start = file.read(_HEADER_BYTES)
    text = codecs.getincrementaldecoder("utf-8-sig")().decode(start)
    return text.splitlines()[0] if text else ""


def _has_rows(path: Path) -> bool:
    with path.open("rb") as file:
        file.readline()
        return any(block.strip() for block in iter(lambda: file.read(_HEADER_BYTES), b""))
