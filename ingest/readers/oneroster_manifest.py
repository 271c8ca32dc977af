"""manifest.csv of a OneRoster set: its version and how each file is to be taken.

Source: 1EdTech OneRoster CSV Tables 1.1.1 and CSV Binding 1.2.1, the manifest file; that 1.2.1
keeps the value 1.2 is from public sets. The manifest's column of values is `value`.
"""

import csv
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass

from ingest.findings import Finding
from ingest.readers.oneroster_files import MODES, VERSIONS, needed_files, standard_files
from ingest.readers.oneroster_package import Package, read_rows

_ASK = "Ask for a set exported as OneRoster CSV 1.1 or 1.2 with its manifest.csv."


@dataclass(frozen=True)
class Manifest:
    """The version of a set and the mode (absent, bulk or delta) of each file that is read."""

    version: str
    modes: Mapping[str, str]

    def sends(self, file: str) -> bool:
        """Tell whether the manifest says that the file is in the set."""
        return self.modes.get(file, "absent") != "absent"


def read_manifest(package: Package) -> tuple[Manifest | None, list[Finding]]:
    """Read the manifest and compare it with the files of the zip.

    Returns no manifest when it is missing or cannot be trusted; a finding then says why.
    """
    shown = package.shown("manifest")
    if "manifest" not in package.members:
        text = "The zip has no manifest.csv, so nothing says what it is: version, whole or changes."
        return None, [_refuse(shown, "oneroster_manifest_missing", text, _ASK)]
    try:
        with zipfile.ZipFile(package.path) as archive:
            rows = [row for row in read_rows(archive, package.members["manifest"]) if any(row)]
    except (csv.Error, UnicodeDecodeError, RuntimeError, zipfile.BadZipFile) as fault:
        text = f"manifest.csv cannot be read as text: {fault}."
        return None, [_refuse(shown, "oneroster_manifest_invalid", text, _ASK)]
    if not rows or [name.strip() for name in rows[0]] != ["propertyName", "value"]:
        text = "The first line of manifest.csv must be propertyName,value."
        return None, [_refuse(shown, "oneroster_manifest_invalid", text, _ASK, line=1)]
    return _judge(package, rows[1:])


def _judge(package: Package, rows: list[list[str]]) -> tuple[Manifest | None, list[Finding]]:
    """Check the properties one by one, then against the files."""
    shown = package.shown("manifest")
    properties, findings = _properties(shown, rows)
    findings += _versions(shown, properties)
    if findings:
        return None, findings
    version = properties["oneroster.version"]
    modes = {
        name.removeprefix("file."): value
        for name, value in properties.items()
        if name.startswith("file.")
    }
    manifest = Manifest(version, {file: modes.get(file, "") for file in standard_files(version)})
    return manifest, [*_agreement(package, manifest), *_complete(package, manifest)]


def _properties(shown: str, rows: list[list[str]]) -> tuple[dict[str, str], list[Finding]]:
    """Read name and value of each line; a wrong mode, shape or repetition is refused."""
    properties: dict[str, str] = {}
    findings: list[Finding] = []
    for line, row in enumerate(rows, start=2):
        name, value = ([cell.strip() for cell in row] + [""])[:2]
        if len(row) != 2:
            text = f"Line {line} has {len(row)} fields; it must have two: propertyName,value."
        elif name in properties and properties[name] != value:
            text = f"{name} is given twice, as {properties[name]} and as {value}."
        elif name.startswith("file.") and value not in MODES:
            text = f"{name} is {value or 'empty'}; it must be absent, bulk or delta."
        else:
            properties[name] = value
            continue
        findings.append(_refuse(shown, "oneroster_manifest_invalid", text, _ASK, line=line))
    return properties, findings


def _versions(shown: str, properties: Mapping[str, str]) -> list[Finding]:
    """Refuse a version that is not known; a newer one may mean something else by a column."""
    findings = []
    for name, known in (("manifest.version", ("1.0",)), ("oneroster.version", VERSIONS)):
        value = properties.get(name, "")
        if value not in known:
            text = f"{name} must be {' or '.join(known)}{'' if value else ', and is missing'}."
            findings.append(_refuse(shown, "oneroster_version_unknown", text, _ASK, value=value))
    return findings


def _agreement(package: Package, manifest: Manifest) -> list[Finding]:
    """Compare what the manifest says of each file with what the zip holds."""
    findings = []
    for file, mode in manifest.modes.items():
        there = file in package.members
        shown = package.shown("manifest")
        if mode in ("bulk", "delta") and not there:
            text = f"The manifest says file.{file} is {mode}, but {file}.csv is not in the zip."
            ask = f"Ask for the set again with {file}.csv in it, or with file.{file} = absent."
            findings.append(_refuse(shown, "oneroster_manifest_disagrees", text, ask))
        elif mode == "absent" and there:
            text = f"The manifest says file.{file} is absent, but {file}.csv is in the zip."
            ask = f"It was not read. Ask whether file.{file} should be bulk or delta."
            findings.append(_warn(shown, "oneroster_manifest_disagrees", text, ask))
        elif mode == "" and there:
            text = f"{file}.csv is in the zip, but the manifest has no line file.{file}."
            ask = f"Ask for a manifest with file.{file} = bulk (everything) or delta (changes)."
            findings.append(_refuse(shown, "oneroster_manifest_disagrees", text, ask))
    return findings


def _complete(package: Package, manifest: Manifest) -> list[Finding]:
    """Refuse a complete set without one of the files that a roster is made of.

    A set of changes may hold any of them; a set is one of changes when any file is delta.
    """
    if "delta" in manifest.modes.values():
        return []
    return [
        _refuse(
            package.shown("manifest"),
            "oneroster_file_missing",
            f"A complete roster needs {file}.csv, and this set does not have it.",
            f"Ask for a complete (bulk) set with {file}.csv.",
        )
        for file in needed_files(manifest.version)
        if not manifest.sends(file) and file not in package.members
    ]


def _refuse(
    shown: str, rule: str, text: str, remedy: str, line: int | None = None, value: str | None = None
) -> Finding:
    """Build a refusal of the manifest."""
    return Finding(
        rule=rule,
        verdict="refuse",
        file_name=shown,
        line=line,
        column=None,
        value=value,
        message=text,
        remedy=remedy,
    )


def _warn(shown: str, rule: str, text: str, remedy: str) -> Finding:
    """Build a warning about the manifest."""
    return Finding(
        rule=rule,
        verdict="warn",
        file_name=shown,
        line=None,
        column=None,
        value=None,
        message=text,
        remedy=remedy,
    )
