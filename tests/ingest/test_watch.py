"""Watching takes up what is still, builds when it is time, and goes on whatever it meets."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

import pytest

from ingest.errors import BuildFailed, Problem
from ingest.lock import held
from ingest.pointer import back, published
from ingest.watch import Watched
from tests.ingest.test_intake import BAD_CLASSES, CLASSES, SCHOOLS, put
from tests.ingest.watched_world import World
from tests.ingest.worlds import make_workspace


@pytest.fixture
def world(tmp_path: Path) -> World:
    workspace = make_workspace(tmp_path / "ws")
    return World(workspace, datetime.fromisoformat("2026-05-15T12:00:00+00:00"))


def test_a_file_is_taken_up_once_it_has_been_still_for_a_while(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    world.look()
    world.look(9)
    assert world.loads == []
    put(world.workspace.inbox, "schools.csv", SCHOOLS + "other,Another (invented),\n")
    world.look(2)
    world.look(9)
    assert world.loads == []
    world.look(2)
    assert world.loads == [["schools.csv"]]
    assert list(world.workspace.inbox.iterdir()) == []
    assert world.said[0].startswith("Read 1 file: 2 rows kept, 0 set aside")


def test_what_programs_have_open_is_passed_over_and_an_empty_inbox_is_quiet(world: World) -> None:
    put(world.workspace.inbox, ".part.csv", SCHOOLS)
    put(world.workspace.inbox, "~$schools.xlsx", "x")
    world.settled()
    world.settled()
    assert (world.loads, world.builds, world.said) == ([], [], [])


def test_after_something_new_it_builds_at_once_and_then_at_most_once_an_hour(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    assert len(world.builds) == 1
    assert published(world.workspace)[-1] in world.said[1]
    for _ in range(3):
        world.look(1800)
    assert len(world.builds) == 1, "nothing was new"
    put(world.workspace.inbox, "classes.csv", CLASSES + "room-2,quillbrook,B,01,full_day,2026\n")
    world.settled()
    assert [len(world.loads), len(world.builds)] == [2, 2]
    put(world.workspace.inbox, "classes.csv", CLASSES + "room-3,quillbrook,C,01,full_day,2026\n")
    world.settled()
    world.look(3500)
    assert [len(world.loads), len(world.builds)] == [3, 2]
    world.look(100)
    assert len(world.builds) == 3


def test_at_a_time_of_day_it_builds_even_if_nothing_is_new(world: World) -> None:
    world.setting('build_every_minutes = 0\nbuild_at = ["12:30", "18:30"]')
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    assert (len(world.loads), world.builds) == (1, [])
    world.look(30 * 60)
    world.look(60)
    assert len(world.builds) == 1
    world.look(6 * 3600)
    world.look(60)
    assert [f"{moment:%H:%M}" for moment in world.builds] == ["12:30", "18:31"]


def test_the_time_of_day_is_the_school_s(world: World) -> None:
    text = world.workspace.settings_path.read_text("utf-8")
    world.workspace.settings_path.write_text(f'{text}time_zone = "Europe/Dublin"\n', "utf-8")
    world.setting('build_every_minutes = 0\nbuild_at = ["13:30"]')
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    assert world.builds == []
    world.look(30 * 60)
    assert len(world.builds) == 1


def test_a_moment_missed_while_nobody_watched_is_made_up_for_the_same_day(world: World) -> None:
    world.setting('build_every_minutes = 0\nbuild_at = ["11:30"]')
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    assert len(world.builds) == 1
    world.seen = Watched()
    world.look(60)
    assert len(world.builds) == 1


def test_a_refused_file_is_read_once_and_again_when_it_has_changed_or_a_day_later(
    world: World,
) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", "class_id\nroom-1\n")
    world.settled()
    assert "1 refused" in world.said[0]
    assert "1 left in the inbox until replaced" in world.said[0]
    for _ in range(50):
        world.look(60)
    assert world.loads == [["classes.csv", "schools.csv"]]
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    assert world.loads[1:] == [["classes.csv"]]
    put(world.workspace.inbox, "classes.csv", "class_id\nroom-2\n")
    world.settled()
    world.look(24 * 3600)
    world.look(60)
    assert world.loads[2:] == [["classes.csv"], ["classes.csv"]]


def test_rows_set_aside_do_not_keep_their_file_in_the_inbox(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", BAD_CLASSES)
    world.settled()
    assert "1 set aside" in world.said[0]
    assert list(world.workspace.inbox.iterdir()) == []


def test_while_another_command_is_at_work_it_waits_and_says_so_once(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    world.look()
    with held(world.workspace, "building", world.now):
        for _ in range(40):
            world.look(5)
    assert len(world.loads) < 12, "it came back with longer and longer pauses"
    assert len(world.said) == 1
    assert "Another command is at work" in world.said[0]
    world.look(300)
    assert list(world.workspace.inbox.iterdir()) == []
    assert "Read 1 file" in world.said[1]


def test_one_file_that_it_stumbles_over_does_not_hold_up_the_others(world: World) -> None:
    def stumble(files: list[Path]) -> None:
        if any(file.name == "zebra.csv" for file in files):
            raise RuntimeError("a stripe too many")

    world.load_fault = stumble
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "zebra.csv", "stripe\n1\n")
    world.settled()
    assert world.loads == [["schools.csv", "zebra.csv"], ["schools.csv"], ["zebra.csv"]]
    assert "unforeseen: RuntimeError('a stripe too many')" in world.said
    for _ in range(20):
        world.look(400)
    assert len(world.loads) == 3
    assert [path.name for path in world.workspace.inbox.iterdir()] == ["zebra.csv"]


def test_when_no_file_is_at_fault_all_wait_and_are_tried_again(world: World) -> None:
    def full(files: list[Path]) -> None:
        raise Problem("The disk is full.", remedy="make room")

    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    world.load_fault = full
    world.settled()
    for _ in range(100):
        world.look(6)
    assert 3 < len(world.loads) < 15
    assert world.said == ["The disk is full. What to do: make room"]
    world.load_fault = lambda files: None
    world.look(400)
    assert list(world.workspace.inbox.iterdir()) == []


def test_a_build_that_does_not_finish_is_said_and_tried_again_an_hour_later(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.build_fault = BuildFailed("A test did not hold.", remedy="look into the log")
    world.settled()
    for _ in range(30):
        world.look(60)
    assert (len(world.builds), world.said[1:]) == (
        1, ["A test did not hold. What to do: look into the log"]
    )  # fmt: skip
    world.build_fault = None
    world.look(3600)
    assert len(world.builds) == 2
    assert published(world.workspace)


def test_going_back_to_an_earlier_build_is_respected(world: World) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    put(world.workspace.inbox, "classes.csv", CLASSES + "room-2,quillbrook,B,01,full_day,2026\n")
    world.look(3600)
    world.settled()
    assert len(world.builds) == 2
    earlier = back(world.workspace)
    for _ in range(5):
        world.look(3600)
    assert len(world.builds) == 2
    assert earlier == published(world.workspace)[0]


def test_settings_that_cannot_be_read_are_said_once_and_heeded_once_they_can(world: World) -> None:
    right = world.workspace.settings_path.read_text("utf-8")
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    world.workspace.settings_path.write_text(f"{right}[wach]\n", "utf-8")
    for _ in range(30):
        world.look(60)
    assert world.loads == []
    assert len(world.said) == 1
    assert "did you mean watch?" in world.said[0]
    world.workspace.settings_path.write_text(f"{right}[watch]\nsettle_seconds = 2\n", "utf-8")
    world.look(600)
    world.look(3)
    assert world.loads == [["schools.csv"]]


def test_before_anything_was_loaded_nothing_is_built(world: World) -> None:
    world.setting('build_at = ["11:00"]')
    world.settled()
    assert (world.builds, world.said) == ([], [])


def test_figures_wait_for_a_file_that_is_just_coming_in_but_not_at_a_time_of_day(
    world: World,
) -> None:
    put(world.workspace.inbox, "schools.csv", SCHOOLS)
    put(world.workspace.inbox, "classes.csv", CLASSES)
    world.settled()
    world.look(7200)
    os.utime(world.workspace.landing, (world.now.timestamp(), world.now.timestamp()))
    put(world.workspace.inbox, "classes.csv", CLASSES + "room-2,quillbrook,B,01,full_day,2026\n")
    world.look(3600)
    assert len(world.builds) == 1
    world.look(11)
    assert (len(world.loads), len(world.builds)) == (2, 2)
    world.setting('build_at = ["16:00"]')
    world.now = world.now.replace(hour=15, minute=59, second=55)
    put(world.workspace.inbox, "classes.csv", CLASSES + "room-3,quillbrook,C,01,full_day,2026\n")
    world.look()
    world.look(6)
    assert (len(world.loads), len(world.builds)) == (2, 3)
