"""What a browser sends is kept whole under a plain name, and never replaces or escapes."""

from __future__ import annotations

import errno
import os
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from app import desk as room
from app import durable
from app.desk import Desk, NotKept, inbox
from app.desk.inbox import safe_name
from tests.app.desk.world import make_workspace, open_desk


@pytest.fixture
def desk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Desk:
    return open_desk(monkeypatch, make_workspace(tmp_path / "ws"))


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ("lessons.csv", "lessons.csv"),
        ("../../etc/passwd", "passwd"),
        ("C:\\Users\\office\\draws.xlsx", "draws.xlsx"),
        ("/", "file"),
        ("..", "file"),
        ("", "file"),
        (".hidden.csv", "hidden.csv"),
        ("~$lessons.xlsx", "lessons.xlsx"),
        ("-rf.csv", "rf.csv"),
        ("con.csv", "file-con.csv"),
        ("LPT1", "file-LPT1"),
        ("Thumbs.db", "file-Thumbs.db"),
        ("a\x00b\nc.csv", "a_b_c.csv"),
        ("trailing. . .", "trailing"),
        ("Räume 3 (neu).csv", "Räume 3 (neu).csv"),
        ("lessons.csv\u202egpj", "lessons.csv_gpj"),
        ("x" * 400 + ".csv", "x" * 120 + ".csv"),
    ],
)
def test_a_name_from_outside_becomes_a_plain_one(sent: str, kept: str) -> None:
    assert safe_name(sent) == kept


@given(some.text(max_size=300))
def test_no_name_hides_escapes_or_is_too_long(sent: str) -> None:
    name = safe_name(sent)
    assert name == Path(name).name
    assert name not in ("", ".", "..")
    assert not name.startswith((".", "~", "-", " "))
    assert not set(name) & set('/\\:*?"<>|\x00')
    assert len(name.encode()) <= 200
    assert safe_name(name) == name


def test_bytes_are_kept_as_they_were_sent(desk: Desk) -> None:
    kept = room.keep(desk, "../lessons.csv", b"\xef\xbb\xbfa,b\r\n1,2")
    assert kept == desk.inbox / "lessons.csv"
    assert kept.read_bytes() == b"\xef\xbb\xbfa,b\r\n1,2"
    assert [path.name for path in desk.inbox.iterdir()] == ["lessons.csv"]


def test_a_name_that_is_taken_is_numbered_and_the_first_file_stays(desk: Desk) -> None:
    names = [room.keep(desk, "lessons.csv", bytes([65 + turn])).name for turn in range(3)]
    assert names == ["lessons.csv", "lessons-2.csv", "lessons-3.csv"]
    assert (desk.inbox / "lessons.csv").read_bytes() == b"A"


def test_many_who_send_one_name_at_once_lose_nothing(desk: Desk) -> None:
    people = [
        threading.Thread(target=room.keep, args=(desk, "lessons.csv", b"%d" % number))
        for number in range(24)
    ]
    for one in people:
        one.start()
    for one in people:
        one.join()
    found = {path.read_bytes() for path in desk.inbox.iterdir()}
    assert found == {b"%d" % number for number in range(24)}


def test_a_disk_without_links_keeps_files_as_well(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, "not permitted")

    monkeypatch.setattr(durable.os, "link", no_links)
    assert [room.keep(desk, "a.csv", b"%d" % turn).name for turn in range(2)] == [
        "a.csv",
        "a-2.csv",
    ]
    assert sorted(path.read_bytes() for path in desk.inbox.iterdir()) == [b"0", b"1"]


def test_a_file_that_is_too_large_is_refused_with_a_remedy(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(inbox, "LARGEST_MB", 0)
    with pytest.raises(NotKept, match="roundelay load"):
        room.keep(desk, "lessons.csv", b"a")
    assert list(desk.inbox.iterdir()) == []


def test_a_full_disk_is_said_and_leaves_nothing_behind(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(durable.os, "fsync", full)
    with pytest.raises(NotKept, match="No space left"):
        room.keep(desk, "lessons.csv", b"a")
    assert list(desk.inbox.iterdir()) == []


def test_the_bytes_are_on_the_disk_before_the_name_is(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[list[str]] = []
    flush = os.fsync

    def looking(handle: int) -> None:
        seen.append([path.name for path in desk.inbox.glob("[!.]*")])
        flush(handle)

    monkeypatch.setattr(durable.os, "fsync", looking)
    room.keep(desk, "lessons.csv", b"a")
    assert seen == [[], ["lessons.csv"]]


def test_what_programs_leave_behind_does_not_wait(desk: Desk) -> None:
    for name in (".half.part", "~$lessons.xlsx", "Thumbs.db", "lessons.csv"):
        (desk.inbox / name).write_bytes(b"x")
    (desk.inbox / "folder").mkdir()
    assert [file.name for file in room.waiting(desk)] == ["lessons.csv"]


def test_a_file_put_away_is_kept_and_does_not_wait_any_more(desk: Desk) -> None:
    for content in (b"1", b"2"):
        room.keep(desk, "lessons.csv", content)
        room.put_away(desk, "lessons.csv")
    home = desk.inbox / inbox.PUT_AWAY
    assert room.waiting(desk) == []
    assert sorted(path.read_bytes() for path in home.iterdir()) == [b"1", b"2"]


@pytest.mark.parametrize("name", ["../roundelay.toml", "/etc/hosts", "gone.csv", ""])
def test_only_what_waits_can_be_put_away_or_loaded(desk: Desk, name: str) -> None:
    with pytest.raises(NotKept):
        room.put_away(desk, name)
    with pytest.raises(NotKept):
        room.load(desk, [name])
    assert (desk.workspace / "roundelay.toml").is_file()
