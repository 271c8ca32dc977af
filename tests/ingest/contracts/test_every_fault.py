"""Every fault that an import must catch: the right verdict, place and words, and a balance."""

from __future__ import annotations

import re
from pathlib import Path

import duckdb
import pytest

from ingest.contracts import load_contracts
from ingest.findings import GENERIC_RULES
from ingest.load import FileReport
from ingest.workspace import Workspace
from tests.ingest.contracts.faults import ALL, Expected, Fault
from tests.ingest.contracts.faults.good_rows import GOOD_ROWS
from tests.ingest.contracts.faults.writing import csv_bytes, files_of
from tests.ingest.contracts.loading import BASE, FIXTURES, load

INVALID = FIXTURES / "invalid"


def places(folder: Path, report: FileReport) -> list[Expected]:
    """What the ledger says was found in a file, row by row (a report takes like rows together)."""
    with duckdb.connect(Workspace(folder).landing, read_only=True) as con:
        rows = con.execute(
            "select rule_name, verdict, line_number, column_name from ledger.findings "
            "where file_hash = ? and rule_name is not null",
            [report.file_hash],
        ).fetchall()
    return [Expected(*row) for row in rows]


def in_order(expected: list[Expected]) -> list[tuple[str, str, int, str]]:
    return sorted((one.rule, one.verdict, one.line or 0, one.column or "") for one in expected)


def test_the_valid_mini_school_loads_without_a_single_finding(tmp_path: Path) -> None:
    reports = load(tmp_path, *BASE)

    assert [one.feed for one in reports if one.findings] == []
    assert {one.feed for one in reports} == set(load_contracts())
    assert all(one.received == one.accepted > 0 for one in reports)


@pytest.mark.parametrize("feed", sorted(GOOD_ROWS))
def test_the_good_row_that_a_fault_changes_is_good(feed: str, school: Path) -> None:
    path = school / f"{feed}.csv"
    path.write_bytes(csv_bytes(feed, [{}]))

    [report] = load(school, path)

    assert list(report.findings) == []
    assert (report.received, report.accepted) == (1, 1)


@pytest.mark.parametrize("fault", ALL, ids=[one.name for one in ALL])
def test_a_bad_file_gets_its_verdict_and_says_where_and_what_to_do(
    fault: Fault, school: Path
) -> None:
    folder = INVALID / fault.name
    for before in sorted((folder / "before").glob("*.csv")):
        assert load(school, before)[0].findings == ()
    [path] = folder.glob(f"{fault.feed}.*")

    [report] = load(school, path)

    assert in_order(places(school, report)) == in_order(list(fault.expected))
    assert report.received == fault.received_count
    assert (report.known, report.quarantined, report.refused) == (
        fault.known,
        fault.quarantined_count,
        fault.refused_count,
    )
    assert report.accepted + report.known + report.quarantined + report.refused == report.received
    for one in report.findings:
        assert one.file_name == path.name
        assert one.message
        assert one.remedy
        assert not re.search(r"\{\w+\}", one.message + one.remedy)


def test_a_roster_collapse_can_be_confirmed_in_the_settings(school: Path) -> None:
    [path] = (INVALID / "roster_collapse").glob("memberships.csv")

    [report] = load(school, path, thresholds={"roster_collapse_share": 1.0})

    assert report.findings == ()
    assert report.accepted == report.received > 0


def test_a_fault_comes_from_the_file_that_is_kept_for_it() -> None:
    kept = {path.relative_to(INVALID) for path in INVALID.rglob("*") if path.is_file()}
    made = {path: raw for fault in ALL for path, raw in files_of(fault)}

    assert kept == set(made)
    assert {path: (INVALID / path).read_bytes() for path in kept} == made


def test_every_named_rule_has_a_bad_file_and_every_bad_file_a_rule() -> None:
    named = {rule.name for contract in load_contracts().values() for rule in contract.rules}
    shown = {one.rule for fault in ALL for one in fault.expected}

    assert named <= shown
    assert shown <= named | set(GENERIC_RULES)
    assert len({fault.name for fault in ALL}) == len(ALL)


def test_every_rule_speaks_of_the_columns_it_is_about() -> None:
    for contract in load_contracts().values():
        for rule in contract.rules:
            gaps = set(re.findall(r"\{(\w+)\}", rule.message + rule.remedy))
            assert gaps <= {*contract.field_names, "detail"}, rule.name
            assert rule.columns, rule.name
