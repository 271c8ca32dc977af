"""The desk starts the same command that a person types, one at a time, and hears how it goes."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import duckdb
import psutil
import pytest

from app import desk as room
from app.desk import Desk, Line, Work, Working, diary
from app.desk.work import Order
from tests.app.desk.world import BASE, ROSTER, make_workspace, open_desk, until, wait


@pytest.fixture
def desk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Desk:
    return open_desk(monkeypatch, make_workspace(tmp_path / "ws"))


def bring(desk: Desk, *feeds: str) -> Work:
    """Keep some files of the base set and load them."""
    names = [
        room.keep(desk, f"{one}.csv", (BASE / f"{one}.csv").read_bytes()).name for one in feeds
    ]
    return wait(room.load(desk, names))


def test_good_files_are_taken_in_and_leave_the_inbox(desk: Desk) -> None:
    work = bring(desk, *ROSTER)
    assert (work.outcome, work.trouble) == ("done", None)
    assert sorted(one.feed for one in work.heard.verdicts) == sorted(ROSTER)
    assert all(one.status == "loaded" and one.accepted for one in work.heard.verdicts)
    assert room.waiting(desk) == []
    assert room.news(desk).is_known
    assert len(room.news(desk).new_files) == len(ROSTER)


def test_the_same_file_twice_is_known_and_changes_nothing(desk: Desk) -> None:
    bring(desk, "schools")
    [verdict] = bring(desk, "schools").heard.verdicts
    assert (verdict.status, verdict.accepted) == ("already_known", 0)
    assert verdict.known == verdict.received


def test_a_refused_file_says_why_and_waits_in_the_inbox(desk: Desk) -> None:
    work = wait(room.load(desk, [room.keep(desk, "lessons.csv", b"").name]))
    [verdict] = work.heard.verdicts
    assert (work.outcome, verdict.status) == ("done", "refused")
    assert verdict.findings[0].rule == "empty_file"
    assert verdict.findings[0].remedy
    assert [file.name for file in room.waiting(desk)] == ["lessons.csv"]


def test_a_row_set_aside_is_given_back_in_a_sheet_that_can_be_taken_away(desk: Desk) -> None:
    bring(desk, *ROSTER)
    rows = (BASE / "routines.csv").read_text("utf-8").splitlines()
    cells = rows[1].split(",")
    cells[0], cells[rows[0].split(",").index("valid_from_on")] = "other", "some day"
    sent = "\n".join([rows[0], ",".join(cells)]).encode()
    work = wait(room.load(desk, [room.keep(desk, "routines.csv", sent).name]))
    [verdict] = work.heard.verdicts
    assert verdict.quarantined == 1
    assert verdict.correction_sheet in room.sheets(desk)
    assert room.sheet(desk, str(verdict.correction_sheet)).startswith(b"PK")
    [held] = room.news(desk).held
    assert (held.count, held.can_release) == (1, False)
    assert held.correction_sheet == verdict.correction_sheet


def test_of_two_who_press_at_once_one_works_and_the_other_is_told(desk: Desk) -> None:
    room.keep(desk, "schools.csv", (BASE / "schools.csv").read_bytes())
    begun: list[Work] = []
    told: list[Working] = []
    together = threading.Barrier(2)

    def press() -> None:
        together.wait()
        try:
            begun.append(room.load(desk))
        except Working as first:
            told.append(first)

    people = [threading.Thread(target=press) for _ in range(2)]
    for one in people:
        one.start()
    for one in people:
        one.join()
    assert len(begun) == len(told) == 1
    assert told[0].work is begun[0]
    assert wait(begun[0]).outcome == "done"


def test_a_command_typed_elsewhere_keeps_the_desk_waiting(desk: Desk) -> None:
    room.keep(desk, "schools.csv", (BASE / "schools.csv").read_bytes())
    with closing(sqlite3.connect(desk.workspace / "work.lock", isolation_level=None)) as held:
        held.execute("begin exclusive")
        work = wait(room.load(desk))
    assert work.outcome == "busy"
    assert work.trouble is not None
    assert "Another command is at work" in work.trouble.what
    assert [file.name for file in room.waiting(desk)] == ["schools.csv"]
    assert wait(room.load(desk)).outcome == "done"


def test_a_build_without_anything_loaded_says_what_to_do(desk: Desk) -> None:
    work = wait(room.make_build(desk))
    assert work.outcome == "refused"
    assert work.trouble is not None
    assert "load your files first" in work.trouble.remedy


def test_work_that_takes_too_long_is_ended_and_said_to_be_late(desk: Desk) -> None:
    work = wait(room.start(desk, Order("build", "all figures", ("build", "--json"), 0.05)))
    assert work.outcome == "late"


def test_work_can_be_stopped_and_nothing_is_half_done(desk: Desk) -> None:
    lines = ["draw_id,class_id"] + [f"d{number},c" for number in range(200_000)]
    big = "\n".join(lines).encode()
    for number in range(4):
        room.keep(desk, f"participation_draws_{number}.csv", big + b"\n%d,c" % number)
    bring(desk, "schools")
    work = room.load(desk)
    until(lambda: work.heard.label)
    room.stop(desk)
    assert wait(work).outcome == "stopped"
    assert not [path for path in desk.workspace.iterdir() if path.name.startswith(".reading-")]
    with closing(duckdb.connect(desk.workspace / "landing.duckdb", read_only=True)) as store:
        counts = store.execute(
            "select bool_and(received_count = accepted_count + known_count + quarantined_count "
            "+ refused_count) from ledger.files"
        ).fetchone()
    assert counts == (True,)
    assert wait(room.load(desk)).code in (0, 1)


def test_what_was_done_stands_in_the_diary_with_who_and_when(desk: Desk) -> None:
    bring(desk, "schools")
    until(lambda: "done" in room.latest(desk)[0].what)
    [ended] = room.latest(desk)
    assert (ended.what, ended.who, ended.about) == ("load: done", "Office", "schools.csv")
    written = (desk.workspace / "logs" / "desk.jsonl").read_text("utf-8").splitlines()
    assert ["begun" in written[0], "done" in written[1], len(written)] == [True, True, 2]


def test_a_beginning_without_an_end_stays_in_the_diary(desk: Desk) -> None:
    for what in ("build: begun", "load: begun", "load: done"):
        diary.write(desk.workspace, Line("2026-05-15T12:00:00+00:00", "Office", what, "x"))
    with (desk.workspace / "logs" / "desk.jsonl").open("a", encoding="utf-8") as stream:
        stream.write("half a li")
    assert [line.what for line in room.latest(desk)] == ["load: done", "build: begun"]


def test_rows_a_person_may_let_in_are_let_in_under_their_name(desk: Desk) -> None:
    bring(desk, *ROSTER, "school_days", "routine_steps", "teaching_plan")
    rows = (BASE / "routine_lessons.csv").read_text("utf-8").splitlines()
    names, cells = rows[0].split(","), rows[1].split(",")
    again = dict(zip(names, cells, strict=True)) | {"lesson_id": "les-again"}
    sent = "\n".join([rows[0], rows[1], ",".join(again.values())]).encode()
    wait(room.load(desk, [room.keep(desk, "routine_lessons.csv", sent).name]))
    [held] = room.news(desk).held
    assert (held.can_release, held.lines) == (True, (3,))
    work = wait(room.let_in(desk, held.file_name, held.lines))
    assert (work.outcome, work.released) == ("done", 1)
    assert room.news(desk).held == ()
    assert room.news(desk).let_in_count == 1
    with closing(duckdb.connect(desk.workspace / "landing.duckdb", read_only=True)) as store:
        decided = store.execute("select status, decided_by from ledger.quarantine").fetchall()
    assert decided == [("released", "Office")]


def test_a_command_finds_no_web_server_around_it(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    from app.desk.work import surroundings

    monkeypatch.setenv("STREAMLIT_SERVER_PORT", "1")
    around = surroundings(desk)
    assert not [name for name in around if name.startswith("STREAMLIT")]
    assert around["ROUNDELAY_WORKSPACE"] == str(desk.workspace)
    assert around["PATH"] == os.environ["PATH"]


def test_an_archive_that_would_burst_is_refused_by_the_reader(desk: Desk) -> None:
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as archive:
        for number in range(12):
            archive.writestr(f"lessons{number}.csv", bytes(90 * 1024 * 1024))
    assert len(packed.getvalue()) < 2 * 1024 * 1024
    work = wait(room.load(desk, [room.keep(desk, "lessons.zip", packed.getvalue()).name]))
    assert work.outcome == "done"
    assert {verdict.status for verdict in work.heard.verdicts} == {"refused"}
    assert [file.name for file in room.waiting(desk)] == ["lessons.zip"]


def test_what_was_sent_outlives_the_dashboard(tmp_path: Path) -> None:
    """A dashboard that dies the moment it has begun a load: the load ends, or the files wait."""
    root = make_workspace(tmp_path / "ws")
    dying = (
        "import os, sys; from pathlib import Path; from tests.app.desk.world import *; "
        "from app import desk as room; import pytest; root = Path(sys.argv[1]); "
        "desk = open_desk(pytest.MonkeyPatch(), root); "
        "names = [room.keep(desk, f'{one}.csv', (BASE / f'{one}.csv').read_bytes()).name "
        "for one in ROSTER]; work = room.load(desk, names); print(work.child.pid, flush=True); "
        "os._exit(9)"
    )
    done = subprocess.run(
        [sys.executable, "-c", dying, str(root)], capture_output=True, text=True, check=False,
        cwd=BASE.parents[2],
    )  # fmt: skip
    assert done.returncode == 9, done.stderr
    child = int(done.stdout)
    until(lambda: not psutil.pid_exists(child), 120)
    left = [path.name for path in (root / "inbox").iterdir()]
    with closing(duckdb.connect(root / "landing.duckdb", read_only=True)) as store:
        landed = store.execute("select count(*) from ledger.files").fetchone()
    assert landed == (len(ROSTER),)
    assert left == []
