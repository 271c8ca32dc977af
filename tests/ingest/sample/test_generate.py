"""What the generator promises about the files as a whole."""

import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from ingest.contracts import load_contracts
from ingest.sample import SMALL, SampleManifest, Situations, Size, faulty, generate

Tables = dict[str, pd.DataFrame]
EVENT_DATES = {
    "routine_lessons": "taught_on",
    "participation_draws": "drawn_on",
    "observation_sessions": "observed_on",
    "coaching_events": "event_on",
    "offer_decisions": "decided_on",
    "support_checks": "checked_on",
    "family_practice": "week_first_on",
}
MOMENTS = {
    "routine_lessons": "entered_at",
    "participation_draws": "entered_at",
    "observation_sessions": "feedback_at",
    "offer_decisions": "entered_at",
}


def _bytes(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.parametrize(
    ("feed", "low", "high"),
    [
        ("classes", 22, 22),
        ("routine_lessons", 7500, 8500),
        ("participation_draws", 38000, 43000),
        ("observation_sessions", 850, 950),
        ("observation_rows", 45000, 75000),
        ("teaching_plan", 1000, 4000),
        ("coaching_events", 150, 400),
        ("offer_decisions", 20, 40),
        ("support_plans", 40, 90),
        ("support_checks", 600, 2000),
        ("family_practice", 200, 400),
    ],
)
def test_the_year_has_as_many_rows_as_a_school_of_this_size(
    tables: Tables, feed: str, low: int, high: int
) -> None:
    assert low <= len(tables[feed]) <= high


def test_about_480_pupils_and_33_staff_belong_to_the_school(tables: Tables) -> None:
    roles = tables["people"]["role"].value_counts()
    assert 460 <= roles["student"] <= 510
    assert 28 <= roles.sum() - roles["student"] <= 36
    assert {"teacher", "aide", "coach", "leader"} < set(roles.index)


def test_every_feed_is_written_once_with_the_columns_of_its_contract(tables: Tables) -> None:
    contracts = load_contracts()
    assert set(tables) == set(contracts)
    for feed, table in tables.items():
        expected = [one.name for one in contracts[feed].fields if not one.is_optional]
        assert list(table.columns) == expected, feed


def test_the_manifest_counts_the_rows_that_were_written(
    year: SampleManifest, tables: Tables
) -> None:
    assert {feed: len(table) for feed, table in tables.items()} == dict(year.row_counts)


def test_the_same_seed_writes_the_same_bytes_in_another_process(
    small: SampleManifest, tmp_path: Path
) -> None:
    code = (
        "import sys; from pathlib import Path; from ingest.sample import SMALL, faulty, generate; "
        "there = Path(sys.argv[1]); faulty(there / 'faulty', generate(there, size=SMALL))"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "12345", "TZ": "Asia/Tokyo"}
    command = [sys.executable, "-c", code, str(tmp_path)]
    subprocess.run(command, check=True, env=environment, cwd=Path(__file__).parents[3])
    faulty(small.folder / "faulty", small)
    assert _bytes(tmp_path) == _bytes(small.folder)


def test_another_seed_writes_another_school(small: SampleManifest, tmp_path: Path) -> None:
    other = generate(tmp_path, seed=1, size=SMALL)
    here, there = _bytes(small.folder), _bytes(other.folder)
    for feed in ("people.csv", "routine_lessons.csv", "participation_draws.zip"):
        assert here[feed] != there[feed]


def test_switching_situations_off_leaves_the_people_as_they_were(
    small: SampleManifest, tmp_path: Path
) -> None:
    plain = generate(tmp_path, size=SMALL, situations=Situations.none())
    here, there = _bytes(small.folder), _bytes(plain.folder)
    for feed in ("people.csv", "memberships.csv", "teaching_plan.csv", "support_checks.csv"):
        assert here[feed] == there[feed]
    assert here["participation_draws.zip"] != there["participation_draws.zip"]


def test_nothing_happened_after_the_as_of_date(year: SampleManifest, tables: Tables) -> None:
    for feed, column in EVENT_DATES.items():
        assert tables[feed][column].max() <= "2026-05-15", feed
    for feed, column in MOMENTS.items():
        latest = pd.to_datetime(tables[feed][column].loc[lambda c: c != ""], utc=True).max()
        assert latest <= year.received_at, feed
    assert year.as_of_on == date(2026, 5, 15)


def test_the_school_says_that_it_is_invented(year: SampleManifest, tables: Tables) -> None:
    assert tables["schools"].to_dict("records") == [
        {"school_id": "quillbrook", "name": "Quillbrook Primary (invented)", "parent_id": ""}
    ]
    assert year.school_name == "Quillbrook Primary (invented)"


def test_no_file_but_people_holds_a_name(
    year: SampleManifest, tables: Tables, tmp_path: Path
) -> None:
    people = tables["people"]
    names = set(people["given_name"]) | set(people["family_name"])
    assert len(names) > 250
    bad = faulty(tmp_path, year)
    others = [*year.files, *year.alternatives, *(one.path for one in bad)]
    for path in others:
        if path.stem != "people":
            assert not names & _words(path), path.name


def _words(path: Path) -> set[str]:
    """Every word of a file, also of the texts inside a zip or a workbook."""
    if path.suffix not in (".zip", ".xlsx"):
        return set(re.findall(r"\w+", path.read_text(encoding="utf-8")))
    with zipfile.ZipFile(path) as archive:
        texts = [archive.read(name).decode("utf-8") for name in archive.namelist()]
    return set(re.findall(r"\w+", " ".join(texts)))


def test_no_two_people_share_a_name_or_a_key(tables: Tables) -> None:
    people = tables["people"]
    assert not people["person_id"].duplicated().any()
    assert not people.duplicated(["given_name", "family_name"]).any()


def test_a_school_of_chosen_rooms_and_days_is_written_to_measure(
    tmp_path: Path, read_tables: Callable[[SampleManifest], Tables]
) -> None:
    size = Size(room_ids=("qb-rm05", "qb-rm06"), as_of_on=date(2025, 10, 17), visits_per_room=4)
    tables = read_tables(generate(tmp_path, seed=3, size=size))
    assert list(tables["classes"]["class_id"]) == ["qb-rm05", "qb-rm06"]
    assert tables["participation_draws"]["drawn_on"].max() <= "2025-10-17"
    assert tables["observation_sessions"].query("purpose != 'training'")["class_id"].nunique() == 2
