"""The file of the hats: one change at a time, whole or not at all, there after a crash."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from app.classroom.hat_store import HatStore
from app.classroom.hat_values import Hat
from tests.app.classroom.hat_device import DAY, Classroom, Told

CHILDREN = {f"pu-{number:02d}": True for number in range(24)}


def test_a_change_that_fails_leaves_the_hat_as_it_was(tmp_path: Path) -> None:
    store = HatStore(tmp_path / "classroom.sqlite")
    room = Classroom(store, CHILDREN)
    Told(room, "one").contact()
    with store.change("room-3") as place:
        before = place.read()

    def broken() -> None:
        with store.change("room-3") as place:
            place.write(Hat(9), before)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        broken()
    with store.change("room-3") as place:
        assert place.read() == before
    store.close()


def test_devices_that_ask_at_once_never_get_the_same_name(tmp_path: Path) -> None:
    store = HatStore(tmp_path / "classroom.sqlite")
    room = Classroom(store, CHILDREN)
    keeper = Told(room, "keeper")
    keeper.contact()
    others = [Told(room, f"device-{number}") for number in range(8)]
    for one in others:
        one.contact()
    keeper.contact()
    for name in sorted(CHILDREN):
        keeper.tell("back", name)
    keeper.contact(wants=False)
    with ThreadPoolExecutor(8) as pool:
        told = list(pool.map(lambda one: one.contact()["share"], others))
    given = [name for share in told for name in share]
    assert len(given) == len(set(given)) == 24
    assert all(told)
    store.close()


def test_what_was_answered_is_there_after_the_server_was_killed(tmp_path: Path) -> None:
    script = f"""
import os
from pathlib import Path
from app.classroom.hat_store import HatStore
from tests.app.classroom.hat_device import Classroom, Told
one = Told(Classroom(HatStore(Path({str(tmp_path / "classroom.sqlite")!r})), {CHILDREN!r}), "one")
one.contact()
one.draw_all("pu-01", "pu-02")
print(one.contact()["had"], flush=True)
os.kill(os.getpid(), 9)
"""
    root = Path(__file__).resolve().parents[3]
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", script],
        cwd=root, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stdout.strip()) == (-9, "2")
    store = HatStore(tmp_path / "classroom.sqlite")
    told = Told(Classroom(store, CHILDREN), "two").contact()
    assert (told["had"], told["elsewhere"]) == (2, 22)
    store.close()


def test_draws_of_long_ago_are_forgotten(tmp_path: Path) -> None:
    store = HatStore(tmp_path / "classroom.sqlite")
    one = Told(Classroom(store, CHILDREN), "one")
    one.contact()
    one.tell("drawn", "pu-01", day="2026-04-01")
    one.tell("drawn", "pu-02", day=DAY)
    one.contact()
    store.close()
    with sqlite3.connect(tmp_path / "classroom.sqlite") as file:
        assert file.execute("select drawn_on from hat_draw").fetchall() == [(DAY,)]
