"""Whole files sent as changes and changes sent as whole files.

Source: 1EdTech OneRoster CSV Tables 1.1.1 and CSV Binding 1.2.1, bulk and delta processing: in a
bulk file `status` and `dateLastModified` are blank, in a delta file both are required and status is
active or tobedeleted.
"""

from dataclasses import replace

import duckdb

from ingest.findings import Finding
from ingest.readers.oneroster_files import StandardFile

_COUNTS = """
    select
        count(*) as row_count,
        count(status) as status_count,
        count("dateLastModified") as changed_count,
        count(*) filter (where lower(trim(status)) = 'tobedeleted') as deleted_count,
        count(*) filter (where lower(trim(status)) not in ('active', 'tobedeleted'))
            as unknown_count,
        count(*) filter (where status is null or "dateLastModified" is null) as blank_count,
        min(line_number) filter (where lower(trim(status)) = 'tobedeleted') as deleted_line,
        min(line_number) filter (where lower(trim(status)) not in ('active', 'tobedeleted'))
            as unknown_line,
        min(line_number) filter (where status is null or "dateLastModified" is null) as blank_line
    from "{file}"
"""


def check_status(
    connection: duckdb.DuckDBPyConnection, file: StandardFile, mode: str, shown: str
) -> list[Finding]:
    """Compare the status columns of a loaded file with what the manifest says it is."""
    cursor = connection.execute(_COUNTS.format(file=file.name))
    names = [column[0] for column in cursor.description or []]
    counts = dict(zip(names, cursor.fetchone() or (), strict=True))
    if not counts["row_count"]:
        return []
    base = Finding("", "refuse", shown, None, "status", None, "", "")
    check = _check_delta if mode == "delta" else _check_bulk
    return check(base, counts) + _check_unknown(base, counts)


def _check_bulk(base: Finding, counts: dict[str, int]) -> list[Finding]:
    """A deletion in a whole file would be read as a person present; a filled status is harmless."""
    if counts["deleted_count"]:
        return [
            replace(
                base,
                rule="delta_sent_as_bulk",
                line=counts["deleted_line"],
                value="tobedeleted",
                message=(
                    "The manifest says that the file is bulk (everything), but "
                    f"{counts['deleted_count']} rows are marked tobedeleted."
                ),
                remedy=(
                    "Ask whether it is a file of changes: then the manifest must say delta. "
                    "Otherwise ask for a bulk file without deleted records."
                ),
                count=counts["deleted_count"],
            )
        ]
    filled = max(counts["status_count"], counts["changed_count"])
    if not filled or counts["unknown_count"]:
        return []
    return [
        replace(
            base,
            rule="oneroster_status_in_bulk",
            verdict="warn",
            message=(
                f"In a bulk file status and dateLastModified are blank; {filled} of "
                f"{counts['row_count']} rows have them filled."
            ),
            remedy=(
                "The file was read as the complete list. Ask whether it is, and for a file with "
                "both columns blank."
            ),
            count=filled,
        )
    ]


def _check_delta(base: Finding, counts: dict[str, int]) -> list[Finding]:
    """Without a status a change cannot be told from a deletion."""
    if not counts["blank_count"]:
        return []
    if not counts["status_count"] and not counts["changed_count"]:
        rule = "bulk_sent_as_delta"
        text = (
            "The manifest says that the file is delta (changes), but status and dateLastModified "
            f"are blank in all {counts['row_count']} rows, as in a complete file."
        )
    else:
        rule = "oneroster_status_missing"
        text = (
            "In a delta file each row has status and dateLastModified; they are blank in "
            f"{counts['blank_count']} of {counts['row_count']} rows."
        )
    return [
        replace(
            base,
            rule=rule,
            line=counts["blank_line"],
            message=text,
            remedy=(
                "Ask whether it is the complete list: then the manifest must say bulk. Otherwise "
                "ask for a delta file with both columns filled in every row."
            ),
            count=counts["blank_count"],
        )
    ]


def _check_unknown(base: Finding, counts: dict[str, int]) -> list[Finding]:
    """Refuse any other status: version 1.0 had one (inactive, from memory) that is neither."""
    if not counts["unknown_count"]:
        return []
    return [
        replace(
            base,
            rule="oneroster_status_unknown",
            line=counts["unknown_line"],
            message=(
                f"{counts['unknown_count']} rows have a status other than active or tobedeleted."
            ),
            remedy="Ask for the file as OneRoster 1.1 or 1.2, with these two words only.",
            count=counts["unknown_count"],
        )
    ]
