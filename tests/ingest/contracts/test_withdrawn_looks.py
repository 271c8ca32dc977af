"""What was seen in a look comes to rest with it, also when the look was withdrawn meanwhile."""

from __future__ import annotations

import csv
from pathlib import Path

import duckdb

from ingest.workspace import Workspace
from tests.ingest.contracts.loading import BASE, load

SEEN = Path(__file__).resolve().parents[2] / "fixtures" / "base"


def copied(folder: Path, feed: str, key: str, **cells: str) -> Path:
    """The first row of a feed's file, of another look."""
    with (SEEN / f"{feed}.csv").open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(stream)
        row = {**next(rows), "observation_id": key, **cells}
    place = folder / f"{len(list(folder.iterdir()))}"
    place.mkdir()
    path = place / f"{feed}.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        out = csv.DictWriter(stream, list(row))
        out.writeheader()
        out.writerow(row)
    return path


def test_rows_of_a_look_that_was_withdrawn_are_no_strangers(tmp_path: Path) -> None:
    sent = tmp_path / "sent"
    sent.mkdir()
    root = Workspace(tmp_path / "w")
    root.make_folders()
    load(root.root, *BASE)
    look = {"activity": "after lunch", "started_at_local": "13:05"}
    load(root.root, copied(sent, "observation_sessions", "obs-new", **look))
    load(root.root, copied(sent, "observation_sessions", "obs-new", **look, voided="true"))
    [known] = load(root.root, copied(sent, "observation_rows", "obs-new"))
    [strange] = load(root.root, copied(sent, "observation_rows", "obs-never"))

    assert (known.accepted, known.quarantined) == (1, 0)
    assert (strange.accepted, strange.quarantined) == (0, 1)
    assert "unknown_reference" in {one.rule for one in strange.findings}
    with duckdb.connect(str(root.landing), read_only=True) as con:
        query = "select observation_id from latest.observation_sessions order by 1"
        assert "obs-new" not in [key for (key,) in con.execute(query).fetchall()]
