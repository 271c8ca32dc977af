"""The invented school goes through the same door, once, and never over anything else."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from ingest import accounts, demo, opening, pointer, sample, settings, snapshot, start
from ingest.build import Maker
from ingest.demo import Demo, School
from ingest.errors import UsageProblem
from ingest.sample import SampleManifest
from tests.ingest.worlds import AT, compute


def small(folder: Path) -> SampleManifest:
    return sample.generate(folder, size=sample.SMALL)


SCHOOL = School(generate=small, maker=Maker(compute=compute))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    return demo.prepare(tmp_path_factory.mktemp("around") / "demo", lambda: AT, school=SCHOOL)


def test_clean_files_are_loaded_and_each_faulty_one_is_answered(made: Demo) -> None:
    assert made.is_new
    assert {"routine_lessons", "participation_draws", "observation_rows"} <= set(made.row_counts)
    assert {one.status for one in made.planted} >= {"loaded", "refused", "already_known"}
    for one in made.planted:
        assert (one.correction_sheet is not None) == (one.set_aside > 0)
    assert settings.load(made.workspace.settings_path).is_demo
    assert pointer.read(made.workspace) == made.build_id
    assert set(made.seconds) == {"inventing", "loading", "building"}


def test_there_is_one_invented_person_for_each_role_and_no_password(made: Demo) -> None:
    people = accounts.listed(made.workspace)
    assert [one.role for one in people] == ["principal", "support", "steward", "teacher"]
    assert all("(invented)" in one.shown_name and not one.has_password for one in people)
    assert people[3].class_id in snapshot.current(made.workspace).rooms
    assert [bool(one.person_id) for one in people] == [False, True, False, True]
    assert opening.signs_in(made.workspace, settings.load(made.workspace.settings_path))


def test_a_second_start_makes_nothing_anew(made: Demo) -> None:
    def never(folder: Path) -> SampleManifest:
        raise AssertionError("generated again")

    again = demo.prepare(
        made.workspace.root, lambda: AT, school=School(generate=never, maker=SCHOOL.maker)
    )
    assert not again.is_new
    assert (again.build_id, again.planted) == (made.build_id, made.planted)


def test_another_seed_makes_it_anew(made: Demo) -> None:
    class Asked(Exception):  # noqa: N818
        pass

    def asked(folder: Path) -> SampleManifest:
        raise Asked

    copy = made.workspace.root.with_name("copy")
    copy.mkdir()
    (copy / demo.MARK).write_text((made.workspace.root / demo.MARK).read_text("utf-8"), "utf-8")
    start.create(copy, "Copy", "copy", "UTC", is_demo=True)
    with pytest.raises(Asked):
        demo.prepare(copy, lambda: AT, school=School(generate=asked, seed=1))


def test_a_real_workspace_or_any_other_folder_is_never_replaced(tmp_path: Path) -> None:
    real = start.create(tmp_path / "demo", "Quillbrook", None, "UTC")
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "thesis.txt").write_text("years of work", encoding="utf-8")
    for folder in (real.root, tmp_path / "other"):
        with pytest.raises(UsageProblem, match="holds something else"):
            demo.prepare(folder, lambda: AT, school=SCHOOL)
    assert real.settings_path.exists()
    assert (tmp_path / "other" / "thesis.txt").exists()


def test_the_summary_says_what_was_set_aside_and_where_to_correct_it(made: Demo) -> None:
    page = StringIO()
    demo.tell(Console(file=page, width=200, markup=False, highlight=False), made)
    text = page.getvalue()
    assert "Some files are wrong on purpose." in text
    assert "rows were set aside, the others kept. Correct them in" in text
    assert "The whole file was refused; nothing of it was kept." in text
