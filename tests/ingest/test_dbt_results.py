"""A rule of a table that a row broke is said in words, and the row is not quoted."""

from __future__ import annotations

import json
from pathlib import Path

import duckdb
import pytest

from ingest.dbt_results import failure

MADE = """
    create table room (
        pupil_id text not null, term_id text not null,
        state_code text check (state_code in ('offer', 'none')),
        primary key (pupil_id, term_id)
    )
"""
SAME_KEY = "two rows have the same key"


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (["('kim-7', 't', 'none'), ('kim-7', 't', 'none')"], SAME_KEY),
        (["('kim-7', 't', 'none')", "('kim-7', 't', 'offer')"], SAME_KEY),
        (["('kim-7', null, 'none')"], "a row has no term_id"),
        (["('kim-7', 't', 'other')"], "a row does not hold ((state_code IN ('offer', 'none')))"),
    ],
    ids=["twice at once", "twice", "empty", "a code that is none"],
)
def test_a_broken_rule_of_a_table_is_a_check_that_did_not_hold(
    rows: list[str], told: str, tmp_path: Path
) -> None:
    inserts = "; ".join(f"insert into room values {row}" for row in rows)
    with duckdb.connect() as connection:
        connection.execute(MADE)
        with pytest.raises(duckdb.Error) as refused:
            connection.execute(inserts)
    result = {
        "unique_id": "model.roundelay.room",
        "status": "error",
        "message": f"Runtime Error in model room (models/room.sql)\n  {refused.value}",
    }
    node = {"name": "room", "resource_type": "model"}
    for name, content in (
        ("run_results.json", {"results": [result]}),
        ("manifest.json", {"nodes": {"model.roundelay.room": node}}),
    ):
        (tmp_path / name).write_text(json.dumps(content), encoding="utf-8")
    found = failure(tmp_path, tmp_path)
    assert found is not None
    assert found.rule == f"Check of room: {told}."
    assert "kim-7" not in str(found)
    assert "correct it and load it again" in str(found.remedy)


def test_nothing_is_told_when_everything_held(tmp_path: Path) -> None:
    held = {"results": [{"unique_id": "model.roundelay.room", "status": "success"}]}
    (tmp_path / "run_results.json").write_text(json.dumps(held), encoding="utf-8")
    assert failure(tmp_path, tmp_path) is None
