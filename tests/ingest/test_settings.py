"""The settings file is closed, and every number in it has a range and a source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ingest import settings
from ingest.errors import WorkspaceProblem
from ingest.settings import READERS, Retention
from ingest.settings_file import new_file
from ingest.thresholds import THRESHOLDS, defaults

SCHOOL = '[school]\nid = "q"\nname = "Quillbrook"\n'


def read(tmp_path: Path, text: str) -> settings.Settings:
    path = tmp_path / "roundelay.toml"
    path.write_text(text, encoding="utf-8")
    return settings.load(path)


def test_what_is_left_out_is_at_its_default(tmp_path: Path) -> None:
    told = read(tmp_path, SCHOOL)
    assert (told.school_id, told.school_name, told.time_zone) == ("q", "Quillbrook", "UTC")
    assert not told.is_demo
    assert told.thresholds == defaults()
    assert told.readers == READERS
    assert told.retention.keep_builds == 5
    assert told.roster.end_dates == "auto"


def test_what_is_set_is_taken(tmp_path: Path) -> None:
    told = read(
        tmp_path,
        SCHOOL + 'demo = true\ntime_zone = "Europe/Dublin"\n[thresholds]\ncriterion = 0.7\n'
        "min_days = 3\n[retention]\nkeep_builds = 2\n[roster]\nequity_reports = true\n"
        'end_dates = "last_day"\n[readers]\nprincipal = ["school", "support"]\n',
    )
    assert told.is_demo
    assert told.time_zone == "Europe/Dublin"
    assert told.thresholds["criterion"] == 0.7
    assert told.thresholds["min_days"] == 3
    assert told.retention == Retention(keep_builds=2, keep_rounds_days=60)
    assert (told.roster.end_dates, told.roster.equity_reports) == ("last_day", True)
    assert told.readers["principal"] == ("school", "support")


@pytest.mark.parametrize(
    ("text", "where", "remedy"),
    [
        ("[threshold]\n", "threshold", "did you mean thresholds?"),
        ("[thresholds]\ncriterian = 0.7\n", "thresholds.criterian", "thresholds.criterion?"),
        ("[retention]\nkeep = 3\n", "retention.keep", "retention.keep_builds?"),
        ("[readers]\nteachers = []\n", "readers.teachers", "readers.teacher?"),
        ("[roster]\nzebra = 1\n", "roster.zebra", "known are: end_dates, equity_reports"),
    ],
)
def test_an_unknown_setting_stops_with_the_nearest(
    tmp_path: Path, text: str, where: str, remedy: str
) -> None:
    with pytest.raises(WorkspaceProblem, match="not known") as problem:
        read(tmp_path, SCHOOL + text)
    assert problem.value.where.endswith(f": {where}")
    assert remedy in problem.value.remedy


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("[thresholds]\ncriterion = 80\n", "thresholds.criterion"),
        ('[thresholds]\ncriterion = "0.8"\n', "thresholds.criterion"),
        ("[thresholds]\ncriterion = true\n", "thresholds.criterion"),
        ("[thresholds]\nmin_days = 2.5\n", "thresholds.min_days"),
        ("[thresholds]\nsmall_cell = 2\n", "thresholds.small_cell"),
        ("[retention]\nkeep_builds = 0\n", "retention.keep_builds"),
        ("[retention]\nkeep_builds = true\n", "retention.keep_builds"),
        ("[retention]\nkeep_rounds_days = 0\n", "retention.keep_rounds_days"),
        ("[retention]\nkeep_rounds_days = 1.5\n", "retention.keep_rounds_days"),
        ('[roster]\nend_dates = "sometimes"\n', "roster.end_dates"),
        ("[roster]\nequity_reports = 1\n", "roster.equity_reports"),
        ('[readers]\nprincipal = ["room"]\n', "readers.principal"),
        ('[readers]\nsupport = "school"\n', "readers.support"),
        ("[readers]\nsupport = []\n", "readers.support"),
    ],
)
def test_a_value_that_cannot_be_used_is_named(tmp_path: Path, text: str, where: str) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, SCHOOL + text)
    assert problem.value.where.endswith(f": {where}")
    assert problem.value.rule
    assert problem.value.remedy


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('[school]\nid = "q"\n', "school.name"),
        ('[school]\nid = " "\nname = "Q"\n', "school.id"),
        (SCHOOL + 'time_zone = "Europe/Dubln"\n', "school.time_zone"),
        (SCHOOL + 'demo = "yes"\n', "school.demo"),
        ("school = 1\n", "school"),
    ],
)
def test_the_school_must_be_told(tmp_path: Path, text: str, where: str) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, text)
    assert problem.value.where.endswith(f": {where}")


def test_a_nearly_right_time_zone_is_suggested(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, SCHOOL + 'time_zone = "Europe/Dubln"\n')
    assert "Europe/Dublin" in problem.value.remedy


def test_a_file_that_is_no_toml_and_a_missing_one_are_said_calmly(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceProblem, match="cannot be read") as problem:
        read(tmp_path, "[school\n")
    assert "line 1" in problem.value.rule
    with pytest.raises(WorkspaceProblem, match="not there"):
        settings.load(tmp_path / "elsewhere.toml")


@pytest.mark.parametrize("name", ['Quillbrook "Q"', "O'Neill's", "École [A] #1", "a\\b"])
def test_a_new_file_reads_back_whatever_the_name(tmp_path: Path, name: str) -> None:
    told = read(tmp_path, new_file("q", name, "America/New_York", is_demo=True))
    assert (told.school_name, told.is_demo) == (name, True)
    assert told.thresholds == defaults()


def test_a_new_file_shows_every_setting_with_its_default_and_its_source(tmp_path: Path) -> None:
    text = new_file("q", "Q", "UTC")
    for one in THRESHOLDS.values():
        assert f"\n# {one.name} = {one.default:g}\n" in text
        assert one.source_note in text
    told = read(tmp_path, re.sub(r"^# (\w+ = )", r"\1", text, flags=re.MULTILINE))
    assert told.thresholds == defaults()
    assert told.readers == READERS


def test_every_default_is_within_its_own_range_and_explained() -> None:
    for one in THRESHOLDS.values():
        assert one.lowest <= one.default <= one.highest, one.name
        assert one.description, one.name
        assert one.source_note, one.name
        assert one.is_whole == isinstance(defaults()[one.name], int), one.name


def test_the_digest_changes_with_a_threshold_and_with_who_reads_what(tmp_path: Path) -> None:
    texts = ("", "[thresholds]\ncriterion = 0.7\n", '[readers]\nsteward = ["school"]\n')
    assert len({read(tmp_path, SCHOOL + text).digest for text in texts}) == 3
    assert read(tmp_path, SCHOOL).digest == read(tmp_path, SCHOOL + "[roster]\n").digest
