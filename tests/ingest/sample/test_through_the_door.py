"""The sample goes through the same door as any school's files."""

import csv
from collections.abc import Callable, Sequence
from pathlib import Path

import duckdb
import pytest

from ingest.contracts import load_contracts
from ingest.load import FileReport, load_files
from ingest.sample import FaultyFile, SampleManifest, faulty
from ingest.settings import Settings
from ingest.workspace import Workspace

Load = Callable[[Sequence[Path]], list[FileReport]]


@pytest.fixture(scope="module")
def load(small: SampleManifest, tmp_path_factory: pytest.TempPathFactory) -> Load:
    """Load files into one workspace, on the evening of the as-of date."""
    workspace = Workspace(tmp_path_factory.mktemp("door"))
    own = Settings(small.school_id, small.school_name, small.time_zone, is_demo=True)
    return lambda paths: load_files(paths, workspace, own, small.received_at)


@pytest.fixture(scope="module")
def clean(small: SampleManifest, load: Load) -> list[FileReport]:
    return load(small.files)


@pytest.fixture(scope="module")
def bad(
    small: SampleManifest,
    clean: list[FileReport],
    load: Load,
    tmp_path_factory: pytest.TempPathFactory,
) -> dict[str, tuple[FaultyFile, FileReport]]:
    """Each faulty file with what the door said, loaded after the clean ones."""
    assert clean
    files = faulty(tmp_path_factory.mktemp("faulty"), small)
    reports = {one.file_name: one for one in load([one.path for one in files])}
    return {one.path.name: (one, reports[one.path.name]) for one in files}


def test_no_row_of_the_clean_files_is_set_aside_or_refused(
    small: SampleManifest, clean: list[FileReport]
) -> None:
    assert [one.file_name for one in clean if one.quarantined or one.refused] == []
    accepted = {feed: 0 for feed in small.row_counts}
    for one in clean:
        accepted[one.feed] += one.accepted
    assert accepted == dict(small.row_counts)


def test_only_what_was_planted_is_remarked_on(clean: list[FileReport]) -> None:
    rules = {finding.rule for one in clean for finding in one.findings}
    assert rules == {
        "cycle_closed_pupils_undrawn",
        "newcomer_never_added",
        "training_visits_kept_out",
    }


def test_every_feed_is_loaded_even_from_the_small_school(clean: list[FileReport]) -> None:
    assert {one.feed for one in clean} == set(load_contracts())


def test_each_faulty_file_gets_the_answer_that_was_foretold(
    bad: dict[str, tuple[FaultyFile, FileReport]],
) -> None:
    assert len(bad) == 5
    for name, (meant, said) in bad.items():
        status = {"refuse": "refused", "known": "already_known"}.get(meant.verdict, "loaded")
        assert (said.status, said.received) == (status, meant.rows), name
        assert said.quarantined == meant.rows_set_aside, name
        assert set(meant.rule_names) <= {finding.rule for finding in said.findings}, name


def test_each_slip_in_the_lessons_file_is_named_at_its_own_line(
    bad: dict[str, tuple[FaultyFile, FileReport]],
) -> None:
    meant, said = bad["routine_lessons_from_one_room.csv"]
    aside = [(one.line, one.rule) for one in said.findings if one.verdict == "quarantine"]
    lines = (3, 4, 5, 7, 8, 9, 10, 11, 12)
    assert sorted(aside) == sorted(zip(lines, meant.rule_names, strict=True))
    assert said.accepted == 3


def test_the_calendar_file_says_the_same_closures_through_its_own_reader(
    small: SampleManifest, tmp_path: Path
) -> None:
    workspace = Workspace(tmp_path)
    own = Settings(small.school_id, small.school_name, small.time_zone)
    first = [path for path in small.files if path.stem in ("schools", "terms", "classes")]
    reports = load_files([*first, *small.alternatives], workspace, own, small.received_at)
    calendar = next(one for one in reports if one.file_name == "calendar.ics")
    assert calendar.quarantined == calendar.refused == 0
    with duckdb.connect(str(workspace.landing), read_only=True) as con:
        landed = con.execute(
            "select cast(day_on as varchar) from latest.school_days "
            "where day_kind in ('closed_planned', 'closed_emergency', 'staff_only') "
            "and applies_to = '*' and isodow(day_on) < 6"
        ).fetchall()
    plain = next(path for path in small.files if path.stem == "school_days")
    rows = csv.DictReader(plain.read_text(encoding="utf-8").splitlines())
    closed = {"closed_planned", "closed_emergency", "staff_only"}
    wanted = {
        row["day_on"] for row in rows if row["day_kind"] in closed and row["applies_to"] == "*"
    }
    assert {day for (day,) in landed} == wanted
