"""The copy of a OneRoster zip that is kept: without the files and columns nobody here needs."""

import csv
import io
import zipfile
from pathlib import Path
from typing import IO

from ingest.errors import Problem
from ingest.readers.oneroster_files import StandardFile, wanted_files
from ingest.readers.oneroster_manifest import read_manifest
from ingest.readers.oneroster_members import copy_columns, kept_positions, read_header
from ingest.readers.oneroster_package import Package, open_package, read_rows

# The oldest moment a zip can hold: the same roster then always gives the same bytes.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


class CannotStrip(Problem):
    """The zip cannot be understood well enough to say what may be kept; keep nothing of it."""

    def __init__(self, name: str, why: str) -> None:
        super().__init__(
            "The roster was not kept.",
            where=name,
            rule=f"{why}, so it cannot be said which columns may be kept",
            remedy="check the zip for its faults and ask for it again",
        )


def stripped_copy(path: Path, to: Path, *, equity_reports: bool = False) -> None:
    """Write the zip again with only the files and columns that may be kept.

    The copy reads exactly like the original. Demographics stay only with `equity_reports`. The copy
    appears under its name only when it is complete. Raises CannotStrip when the manifest or a file
    cannot be read: such a zip must not be archived at all.
    """
    package = open_package(path)
    manifest, _ = read_manifest(package)
    if manifest is None:
        raise CannotStrip(path.name, "its manifest cannot be read")
    files = wanted_files(manifest.version, equity_reports)
    unfinished = to.with_name(to.name + ".tmp")
    try:
        with (
            zipfile.ZipFile(path) as source,
            zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as target,
        ):
            _copy_manifest(source, target, package, set(files))
            for name, file in files.items():
                if name in package.members and manifest.sends(name):
                    _copy_file(source, target, package, file)
        unfinished.replace(to)
    except (csv.Error, UnicodeError, RuntimeError, zipfile.BadZipFile) as fault:
        raise CannotStrip(path.name, "it cannot be read to its end") from fault
    finally:
        unfinished.unlink(missing_ok=True)


def _copy_manifest(
    source: zipfile.ZipFile, target: zipfile.ZipFile, package: Package, kept: set[str]
) -> None:
    """Write the manifest with the files that are left out as absent."""
    with target.open(_entry("manifest"), "w") as raw, _text(raw) as out:
        writer = csv.writer(out, lineterminator="\n")
        for name, *rest in (row for row in read_rows(source, package.members["manifest"]) if row):
            is_dropped = name.startswith("file.") and name.removeprefix("file.") not in kept
            writer.writerow([name, "absent"] if is_dropped else [name, *rest])


def _copy_file(
    source: zipfile.ZipFile, target: zipfile.ZipFile, package: Package, file: StandardFile
) -> None:
    """Write the columns of one file that may be kept."""
    member = package.members[file.name]
    header = read_header(source, member, package.shown(file.name), file)
    positions = kept_positions(file, header.names)
    with (
        source.open(member) as raw,
        target.open(_entry(file.name), "w") as kept,
        _text(kept) as out,
    ):
        copy_columns(raw, out, positions)


def _entry(name: str) -> zipfile.ZipInfo:
    """Name a file of the copy, at the top and without a time."""
    entry = zipfile.ZipInfo(f"{name}.csv", _NO_TIME)
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry


def _text(raw: IO[bytes]) -> io.TextIOWrapper:
    """Open a member for writing text."""
    return io.TextIOWrapper(raw, encoding="utf-8", newline="")
