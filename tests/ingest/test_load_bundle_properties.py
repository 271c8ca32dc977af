"""Records that are loaded together become what they would become one after the other."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from ingest.load import FileReport
from tests.ingest import records
from tests.ingest.door import rows
from tests.ingest.test_load_properties import FEW, copy_of

# Every kind of row: good, wrong by itself, unknown elsewhere, alike in all but the key, warned of.
CELLS = st.fixed_dictionaries(
    {},
    optional={
        "evening_id": st.sampled_from(["e1", "e2", "", "Ottoline Quist"]),
        "hall_id": st.sampled_from(["h1", "h2", "h9", "h1 "]),
        "held_on": st.sampled_from(["2026-03-02", "31/03/2026", "2026-13-01"]),
        "minutes": st.sampled_from(["45.0", "abc", "", "210"]),
        "kind": st.sampled_from(["closed", "opne"]),
        "note": st.sampled_from(["twin", "twin", "=A1"]),
        "began_local": st.sampled_from(["18:00", "25:00"]),
    },
)
# A later revision has content of its own: which of two alike is the double depends on who is first.
LATER = st.fixed_dictionaries(
    {"minutes": st.sampled_from(["50", "51", "abc"])},
    optional={"voided": st.sampled_from(["true", "", "maybe"])},
)
RECORDS = st.lists(st.tuples(CELLS, st.lists(LATER, max_size=2)), min_size=2, max_size=9)
STORED = (
    "select * exclude (received_at) from feed.evenings order by all",
    "select * exclude (received_at) from latest.evenings order by all",
    "select file_name, line_number, row_json, rule_names, can_release, status "
    "from ledger.quarantine order by all",
    "select * from ledger.findings order by all",
    "select * exclude (file_number, received_at) from ledger.files order by all",
)


def write(folder: Path, made: list[tuple[dict[str, str], list[dict[str, str]]]]) -> list[Path]:
    paths = []
    for number, (cells, later) in enumerate(made, start=1):
        paths.append(records.write(folder, number, **cells))
        for revision, changes in enumerate(later, start=2):
            own = {"note": f"later {number} {revision}", **changes}
            paths.append(records.write(folder, number, revision=revision, **own))
    return sorted(paths)


@FEW
@given(made=RECORDS)
def test_together_and_one_after_the_other_come_to_the_same(
    world: Path, made: list[tuple[dict[str, str], list[dict[str, str]]]]
) -> None:
    one_by_one, together = copy_of(world), copy_of(world)
    folder = Path(tempfile.mkdtemp(dir=world.parent))
    paths = write(folder, made)
    singly: dict[str, FileReport] = {}
    for path in paths:
        singly |= records.load(one_by_one, [path])
    found = records.load(together, paths)
    shutil.rmtree(folder)

    for query in STORED:
        assert rows(together, query) == rows(one_by_one, query), query
    assert list(found) == list(singly)
    for name, report in found.items():
        assert report.status == singly[name].status
        assert report.findings == singly[name].findings
