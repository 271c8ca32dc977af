"""What is written down becomes one file in the inbox: checked, whole, once, and by few."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from app import capture
from app.access import Reader, Refused, Scope, current_snapshot, scope_for
from app.capture.keep import read
from app.capture.writers import WRITERS
from ingest.contracts import load_contracts

FEED = "offer_decisions"
KNOWN = {"classes": {"room-3"}, "routines": {"voice"}}
ROOT = Path(__file__).resolve().parents[3]


def record(**changes: str) -> dict[str, str]:
    return {
        "decision_id": capture.new_key(),
        "class_id": "room-3",
        "routine_id": "voice",
        "offer_id": "class:room-3:voice:spring",
        "decision": "offer",
        "decided_on": "2026-05-15",
        "follow_up_on": "2026-06-05",
        "decided_by": "support",
        "note": "Two boosters, before lunch",
        "entered_at": "2026-05-15T15:20:00+02:00",
    } | changes


@pytest.fixture
def team(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("support"))


@pytest.fixture
def inbox(tmp_path: Path) -> Path:
    (tmp_path / "inbox").mkdir()
    return tmp_path / "inbox"


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_decision_becomes_one_file_under_its_key(team: Scope, inbox: Path) -> None:
    one = record(note='He said "now", twice')
    path = capture.keep(team, inbox.parent, FEED, one, KNOWN)
    assert names(inbox) == [f"offer_decisions-{one['decision_id']}.csv"] == [path.name]
    assert read(path) == one


def test_sent_twice_it_is_there_once_even_when_the_clock_went_on(team: Scope, inbox: Path) -> None:
    one = record()
    capture.keep(team, inbox.parent, FEED, one, KNOWN)
    before = {path: path.read_bytes() for path in inbox.iterdir()}
    capture.keep(team, inbox.parent, FEED, one | {"entered_at": "2026-05-15T15:21:00Z"}, KNOWN)
    assert {path: path.read_bytes() for path in inbox.iterdir()} == before


def test_another_decision_never_takes_the_place_of_one_that_is_kept(
    team: Scope, inbox: Path
) -> None:
    one = record()
    capture.keep(team, inbox.parent, FEED, one, KNOWN)
    with pytest.raises(capture.AlreadyKept):
        capture.keep(team, inbox.parent, FEED, one | {"note": "Something else"}, KNOWN)
    assert [read(path) for path in inbox.iterdir()] == [one]


def test_many_at_once_lose_nothing_and_double_nothing(team: Scope, inbox: Path) -> None:
    some = [record() for _ in range(40)]
    with ThreadPoolExecutor(16) as pool:
        list(pool.map(lambda one: capture.keep(team, inbox.parent, FEED, one, KNOWN), some * 3))
    kept = [read(path) for path in inbox.iterdir()]
    assert sorted(kept, key=str) == sorted(some, key=str)


@pytest.mark.parametrize("role", ["principal", "steward", "teacher"])
def test_nobody_but_the_support_team_writes_a_decision(
    school: Path, inbox: Path, role: str
) -> None:
    reader = Reader(role, "room-3" if role == "teacher" else None)
    scope = scope_for(current_snapshot(school), reader)
    with pytest.raises(Refused, match="other readers"):
        capture.keep(scope, inbox.parent, FEED, record(), KNOWN)
    assert names(inbox) == []


def test_a_teacher_writes_about_no_class_but_her_own(school: Path, inbox: Path) -> None:
    scope = scope_for(current_snapshot(school), Reader("teacher", "room-3"))
    for feed in (one for one, roles in WRITERS.items() if "teacher" in roles):
        with pytest.raises(Refused, match="another room"):
            capture.keep(scope, inbox.parent, feed, {"class_id": "room-2"}, {})
        with pytest.raises(capture.NotRight):
            capture.keep(scope, inbox.parent, feed, {"class_id": "room-3"}, {})


def test_a_feed_that_has_no_writers_is_written_by_nobody(team: Scope, inbox: Path) -> None:
    for feed in set(load_contracts()) - set(WRITERS):
        with pytest.raises(Refused):
            capture.keep(team, inbox.parent, feed, {}, {})
    assert names(inbox) == []


@pytest.mark.parametrize(
    ("changes", "field", "rule"),
    [
        ({"decision": ""}, "decision", "missing_value"),
        ({"decision": "perhaps"}, "decision", "unknown_code"),
        ({"decided_on": "15.05.2026"}, "decided_on", "not_date"),
        ({"decided_on": "2026-02-30"}, "decided_on", "not_date"),
        ({"follow_up_on": "soon"}, "follow_up_on", "not_date"),
        ({"note": "x" * 301}, "note", "too_long"),
        ({"note": "=1+1"}, "note", "formula_in_cell"),
        ({"note": "a\x00b"}, "note", "odd_character"),
        ({"note": " a"}, "note", "space_or_case_in_key"),
        ({"class_id": "room-99"}, "class_id", "unknown_reference"),
        ({"routine_id": "juggling"}, "routine_id", "unknown_reference"),
        ({"entered_at": "15:20"}, "entered_at", "not_datetime"),
        ({"decision_id": "../../outside"}, "decision_id", "not_a_uuid"),
        ({"decision_id": ""}, "decision_id", "missing_value"),
        ({"score": "1"}, "score", "unknown_column"),
    ],
)
def test_what_the_contract_does_not_allow_is_said_and_not_written(
    team: Scope, inbox: Path, changes: dict[str, str], field: str, rule: str
) -> None:
    with pytest.raises(capture.NotRight) as answer:
        capture.keep(team, inbox.parent, FEED, record(**changes), KNOWN)
    assert (field, rule) in {(one.field, one.rule) for one in answer.value.faults}
    assert names(inbox) == []


def _full(*_: object) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize("step", ["fsync", "link"])
def test_a_full_disk_is_said_and_leaves_nothing_half_written(
    team: Scope, inbox: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    monkeypatch.setattr(os, step, _full)
    if step == "link":
        monkeypatch.setattr(Path, "replace", _full)
    with pytest.raises(capture.CannotKeep, match="No space left"):
        capture.keep(team, inbox.parent, FEED, record(), KNOWN)
    assert names(inbox) == []


def test_an_inbox_that_is_no_folder_is_said(team: Scope, tmp_path: Path) -> None:
    (tmp_path / "inbox").write_text("in the way", encoding="utf-8")
    with pytest.raises(capture.CannotKeep):
        capture.keep(team, tmp_path, FEED, record(), KNOWN)


def test_a_disk_without_second_names_keeps_it_too_and_once(
    team: Scope, inbox: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unknown(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", unknown)
    one = record()
    for _ in range(2):
        capture.keep(team, inbox.parent, FEED, one, KNOWN)
    assert [read(path) for path in inbox.iterdir()] == [one]


WRITER = """
import sys
from pathlib import Path
from app import capture
from app.access import Reader, current_snapshot, scope_for
from tests.app.capture.test_keep import FEED, KNOWN, record
scope = scope_for(current_snapshot(Path(sys.argv[1])), Reader("support"))
while True:
    one = record()
    capture.keep(scope, Path(sys.argv[2]), FEED, one, KNOWN)
    print(one["decision_id"], flush=True)
"""


def test_a_killed_writer_loses_nothing_that_it_said_was_kept(school: Path, inbox: Path) -> None:
    command = [sys.executable, "-c", WRITER, str(school), str(inbox.parent)]
    child = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)
    assert child.stdout is not None
    said = [child.stdout.readline().strip() for _ in range(60)]
    child.kill()
    said += child.stdout.read().split()
    child.wait(timeout=20)
    kept = [path for path in inbox.iterdir() if not path.name.startswith(".")]
    whole = {str((read(path) or {}).get("decision_id")) for path in kept}
    assert {one for one in said if len(one) == 36} <= whole
    assert len(whole) == len(kept)


def test_the_form_asks_what_the_contract_says() -> None:
    form = capture.form_of(FEED)
    contract: Callable[[str], object] = load_contracts()[FEED].field
    assert [one.name for one in form.blanks] == list(load_contracts()[FEED].field_names)
    assert form.blank("decision").codes == ("offer", "wait", "close", "decline")
    assert form.blank("note").longest == 300
    assert form.blank("note").description == contract("note").description  # type: ignore[attr-defined]
    assert [one.name for one in form.blanks if one.is_needed] == [
        "decision_id", "class_id", "routine_id", "decision", "decided_on",
    ]  # fmt: skip
