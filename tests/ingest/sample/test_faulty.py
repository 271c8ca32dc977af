"""The faulty files hold the faults they are meant to hold, and nothing else."""

import io
from collections.abc import Callable
from pathlib import Path
from typing import cast

import pandas as pd
import pytest

from ingest.contracts import load_contracts
from ingest.findings import GENERIC_RULES
from ingest.sample import FaultyFile, SampleManifest, faulty

Tables = dict[str, pd.DataFrame]


@pytest.fixture(scope="module")
def files(year: SampleManifest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, FaultyFile]:
    return {one.path.stem: one for one in faulty(tmp_path_factory.mktemp("faulty"), year)}


def _rows(table: pd.DataFrame) -> list[dict[str, str]]:
    return cast("list[dict[str, str]]", table.to_dict("records"))


def _table(one: FaultyFile) -> pd.DataFrame:
    return pd.read_csv(io.BytesIO(one.path.read_bytes()), dtype=str, keep_default_na=False)


def test_every_rule_that_must_be_named_is_a_rule_of_that_feed(
    files: dict[str, FaultyFile],
) -> None:
    contracts = load_contracts()
    assert len(files) == 5
    for one in files.values():
        own = {rule.name for rule in contracts[one.feed].rules}
        assert set(one.rule_names) <= own | set(GENERIC_RULES)
        assert len(_table(one)) == one.rows


def test_the_lessons_file_has_nine_slips_between_three_good_rows(
    files: dict[str, FaultyFile], tables: Tables
) -> None:
    one = files["routine_lessons_from_one_room"]
    table = _table(one)
    rows = {row["lesson_id"]: row for row in _rows(table)}
    assert one.rows_set_aside == len(one.rule_names) == 9
    assert not set(rows) & set(tables["routine_lessons"]["lesson_id"])
    assert rows["les-r002"]["lesson_kind"] == "boster"
    assert rows["les-r003"]["minutes"] == "0:12"
    assert rows["les-r004"]["steps_done"] == "8"
    assert (rows["les-r006"]["status"], rows["les-r006"]["minutes"]) == ("cancelled", "3")
    days = _rows(tables["school_days"].query("applies_to == '*'"))
    kinds = {row["day_on"]: row["day_kind"] for row in days}
    assert kinds[rows["les-r007"]["taught_on"]] == "staff_only"
    assert rows["les-r008"]["class_id"] not in set(tables["classes"]["class_id"])
    assert rows["les-r009"]["pupils_present"] == "85%"
    assert rows["les-r010"]["minutes"] == "600"
    assert rows["les-r011"]["taught_on"] > "2026-05-15"


def test_the_other_program_writes_day_and_month_first_in_the_whole_file(
    files: dict[str, FaultyFile], tables: Tables
) -> None:
    rows = _table(files["participation_draws_other_dates"])
    days = pd.to_datetime(rows["drawn_on"], format="%d/%m/%Y")
    assert (days.dt.day > 12).any()
    known = tables["participation_draws"].query("drawn_on >= '2026-05-01'")["drawn_on"]
    assert set(days.dt.strftime("%Y-%m-%d")) <= set(known)


def test_one_file_is_the_same_bytes_again_and_one_has_a_column_too_many(
    files: dict[str, FaultyFile], year: SampleManifest
) -> None:
    again = files["observation_sessions_again"].path.read_bytes()
    assert again == (year.folder / "observation_sessions.csv").read_bytes()
    header = _table(files["support_checks_with_remarks"]).columns
    known = {one.name for one in load_contracts()["support_checks"].fields}
    assert [name for name in header if name not in known] == ["remark"]


def test_the_old_cards_draw_one_child_who_has_left(
    files: dict[str, FaultyFile], tables: Tables
) -> None:
    rows = _table(files["participation_draws_old_cards"])
    stays = {(row["class_id"], row["person_id"]): row for row in _rows(tables["memberships"])}
    ends = [stays[row["class_id"], row["pupil_id"]]["end_on"] for row in _rows(rows)]
    assert ends[0] == ends[2] == ""
    assert "" < ends[1] < rows["drawn_on"].iloc[1]


def test_a_small_school_can_be_sent_faulty_files_too(
    small: SampleManifest, tmp_path: Path, read_tables: Callable[[SampleManifest], Tables]
) -> None:
    known = set(read_tables(small)["classes"]["class_id"])
    rows = _table(faulty(tmp_path, small)[0])
    assert set(rows["class_id"]) - known == {"qb-rm66"}
    assert rows["taught_on"].max() > small.as_of_on.isoformat()
