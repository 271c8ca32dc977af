"""What devices drew on some days goes through the same door as any file, without a doubt."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import duckdb
import pytest
from playwright.sync_api import Page

from app.classroom.hat_store import HatStore
from ingest.load import FileReport
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.hat_world import run
from tests.ingest.contracts.loading import BASE, load

pytestmark = pytest.mark.browser

CLASS = "qb-robin"
CHILDREN = 6
COLUMNS = (
    "draw_id", "class_id", "drawn_on", "drawn_at_local", "sequence_number", "cycle_number",
    "method", "pupil_id", "outcome", "wait_seconds", "eligible_count", "context", "entered_at",
)  # fmt: skip


def school(folder: Path) -> Path:
    """The small invented school, with a class of six in it."""
    place = folder / "w"
    place.mkdir()
    load(place, *BASE)
    keys = [f"pu-{number:02d}" for number in range(CHILDREN)]
    people = "\n".join(
        ["person_id,role,given_name,family_name", *(f"{key},student,," for key in keys)]
    )
    members = "\n".join(
        [
            "class_id,person_id,role,begin_on,end_on,is_primary,share,is_draw_eligible",
            *(f"{CLASS},{key},student,2025-09-01,,true,,true" for key in keys),
            *(f"{CLASS},{key},student,2025-09-01,,true,,false" for key in ("pu-0011", "pu-0012")),
            f"{CLASS},pu-0014,student,2025-09-01,,true,,false",
        ]
    )
    for name, text in (("people", people), ("memberships", members)):
        file = folder / f"{name}.csv"
        file.write_text(text + "\n", encoding="utf-8")
        [report] = load(place, file)
        assert report.status == "loaded", report
    return place


def write(folder: Path, draws: list[dict[str, Any]]) -> list[Path]:
    """One file a record and revision, as the page's records lie in the inbox."""
    folder.mkdir()
    files = []
    for number, one in enumerate(draws):
        minutes, seconds = divmod(number, 60)
        row = {
            "draw_id": one["draw_id"], "class_id": CLASS, "drawn_on": one["day"],
            "drawn_at_local": f"09:{minutes:02d}:{seconds:02d}", "sequence_number": one["sequence"],
            "cycle_number": one["round"], "method": "cycle", "pupil_id": one["pupil_id"],
            "outcome": one["outcome"], "wait_seconds": "3", "context": "",
            "eligible_count": one["eligible"] or "", "entered_at": "",
        }  # fmt: skip
        for ending, more in (("", {}), ("_02", {"voided": "true"})):
            if more and not one["undone"]:
                continue
            file = folder / f"participation_draws-{one['draw_id']}{ending}.csv"
            with file.open("w", encoding="utf-8", newline="") as stream:
                writer = csv.DictWriter(stream, [*COLUMNS, *more])
                writer.writeheader()
                writer.writerow({**row, **more})
            files.append(file)
    return sorted(files)


def doubts(reports: list[FileReport]) -> list[tuple[str, str]]:
    """Everything that the door said about the files: the rule of each finding."""
    return [
        (report.file_name, found.rule)
        for report in reports
        for found in report.findings
    ]  # fmt: skip


def test_what_two_devices_drew_loads_record_by_record_without_a_finding(
    bare: Page, tmp_path: Path
) -> None:
    store = HatStore(tmp_path / "classroom.sqlite")
    found, draws = run(bare, store, rounds=4, devices=2, pupils=CHILDREN, seed=5, trouble=2)
    store.close()
    assert (found.twice, found.lost) == ([], [])
    place = school(tmp_path)
    reports = load(place, *write(tmp_path / "inbox", draws))
    assert {one.status for one in reports} <= {"loaded"}
    assert doubts(reports) == []
    with duckdb.connect(str(place / "landing.duckdb"), read_only=True) as con:
        kept = con.execute(
            "select count(*) from latest.participation_draws "
            "where class_id = ? and draw_id not like 'drw-%'",
            [CLASS],
        ).fetchone()
    assert kept == (sum(not one["undone"] for one in draws),)
