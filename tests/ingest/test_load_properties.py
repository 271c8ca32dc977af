"""What must hold for any mix of rows."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.ingest import door
from tests.ingest.door import evening, load_evenings, rows

CELLS = {
    "evening_id": st.sampled_from(["e1", "e2", "e3", "e4", "e5", ""]),
    "hall_id": st.sampled_from(["h1", "h2", "h1", "h9", " h1"]),
    "held_on": st.sampled_from(["2026-03-02", "2026-03-03", "31/03/2026", "45901"]),
    "began_local": st.sampled_from(["18:00", "19:00", "20:00:00", "25:00", ""]),
    "minutes": st.sampled_from(["45", "45.0", "0", "abc", "", "50%"]),
    "kind": st.sampled_from(["open", "closed", "opne"]),
    "voided": st.sampled_from(["", "", "", "true", "maybe"]),
}
ROW = st.fixed_dictionaries(CELLS).map(lambda cells: evening(**cells))
ROWS = st.lists(ROW, min_size=1, max_size=12)
KEPT = "select * exclude (file_hash, received_at, row_version) from latest.evenings order by all"
HELD = "select row_json, rule_names, status from ledger.quarantine order by all"
FEW = settings(
    max_examples=12, deadline=None, derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)  # fmt: skip


def copy_of(world: Path) -> Path:
    return Path(shutil.copytree(world, Path(tempfile.mkdtemp(dir=world.parent)) / "workspace"))


@FEW
@given(lines=ROWS)
def test_every_row_received_is_accounted_for(world: Path, lines: list[str]) -> None:
    root = copy_of(world)
    report = load_evenings(root, *lines)

    assert report.received == len(lines)
    assert door.balance(report)
    assert report.quarantined == len(rows(root, "select 1 from ledger.quarantine"))
    assert report.accepted == rows(root, "select count(*) from feed.evenings")[0][0]


@FEW
@given(lines=ROWS)
def test_loading_twice_changes_nothing(world: Path, lines: list[str]) -> None:
    root = copy_of(world)
    load_evenings(root, *lines)
    before = rows(root, KEPT), rows(root, HELD)
    again = load_evenings(root, *lines)

    assert (rows(root, KEPT), rows(root, HELD)) == before
    assert again.accepted == again.quarantined == 0


@FEW
@given(lines=ROWS, data=st.data())
def test_the_order_of_the_rows_does_not_matter(
    world: Path, lines: list[str], data: st.DataObject
) -> None:
    one, other = copy_of(world), copy_of(world)
    load_evenings(one, *lines)
    load_evenings(other, *data.draw(st.permutations(lines)))

    assert rows(one, KEPT) == rows(other, KEPT)
    assert rows(one, HELD) == rows(other, HELD)
