"""Which files are checked together: what pages write down, by its name and its feed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from uuid import uuid4

import pytest

from app.capture.packed import packed, text_of
from app.capture.standing import file_name
from ingest import bundles
from ingest.contracts import load_contracts
from ingest.load import load_files
from ingest.readers import Table
from ingest.workspace import Workspace
from tests.ingest.contracts import loading


def test_records_with_rows_of_their_own_are_two_bundles(tmp_path: Path) -> None:
    loading.load(tmp_path, *loading.BASE)
    paths = [looked(tmp_path / "in", number) for number in range(1, 6)]
    steps: list[str] = []
    found = load_files(
        paths, Workspace(tmp_path), loading.SETTINGS, loading.NOW,
        lambda step, done, total: steps.append(step),
    )  # fmt: skip

    assert sum(one.endswith("checked") for one in steps) == 2
    assert [(one.feed, one.accepted) for one in found] == [("observation_sessions", 1)] * 5 + [
        ("observation_rows", 3)
    ] * 5
    assert {one.file_name.partition("/")[0] for one in found} == {path.name for path in paths}


def looked(folder: Path, number: int) -> Path:
    """A look of three rows as the page packs it."""
    contracts, key = load_contracts(), f"00000000-0000-4000-8000-{number:012d}"
    look = {
        "observation_id": key, "class_id": "qb-oak", "observer_id": "st-004",
        "observed_on": "2025-10-16", "started_at_local": f"{8 + number:02d}:05",
        "minutes_observed": "10", "minutes_instruction": "10", "routine_id": "settle",
        "taught_by_role": "teacher", "purpose": "routine",
    }  # fmt: skip
    own = [
        {
            "observation_id": key, "row_number": str(row), "row_type": "event", "code": code,
            "at_seconds": str(30 * row + number),
        }
        for row, code in enumerate(("praise_specific", "correction_calm", "praise_general"), 1)
    ]  # fmt: skip
    folder.mkdir(exist_ok=True)
    path = folder / file_name("observation_sessions", key, 1, ".zip")
    sessions, lines = contracts["observation_sessions"], contracts["observation_rows"]
    path.write_bytes(
        packed({sessions.name: text_of(sessions, [look]), lines.name: text_of(lines, own)})
    )
    return path


@pytest.mark.parametrize("revision", [1, 2, 99])
@pytest.mark.parametrize("suffix", [".csv", ".zip"])
def test_the_names_that_pages_give_are_those_of_records(revision: int, suffix: str) -> None:
    key = str(uuid4())
    shown = file_name("routine_lessons", key, revision, suffix)
    shown += "/routine_lessons.csv" if suffix == ".zip" else ""
    table = Table("routine_lessons", shown, "", Path(__file__), ",", ("lesson_id",))

    assert bundles.is_record(table, load_contracts()["routine_lessons"])
    assert bundles.record_of(table) == f"routine_lessons-{key}"
    assert not bundles.is_record(replace(table, file_name="routine_lessons.csv"), None)
    assert not bundles.is_record(table, load_contracts()["people"])
