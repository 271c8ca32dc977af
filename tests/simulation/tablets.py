"""Fifty tablets, a server that is killed again and again, a loader at work: is it all there?

`python -m tests.simulation.tablets` prints the figures. Twenty minutes of school are run at the
speed that is asked for; every record is then looked for among the files and in the landing store.
"""

from __future__ import annotations

import argparse
import json
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import duckdb

from app import door
from app.classroom.visits import self_key
from app.door.identity import guest_of
from ingest import accounts, intake
from ingest.workspace import Workspace
from tests.app.classroom.serving import Server
from tests.app.snapshot import write_snapshot
from tests.ingest.contracts.loading import BASE, NOW, SETTINGS
from tests.simulation.tablet import Net, Tablet, school_days

_CLASSES = {"qb-willow": "st-001", "qb-oak": "st-004"}
_SCHOOL = "quillbrook"
_OFF = ("2025-09-12", "2025-09-22", "2025-10-13")


@dataclass(frozen=True)
class Plan:
    """How many tablets, how long, how fast, and how often the server goes."""

    tablets: int = 50
    minutes: float = 20.0
    speed: float = 10.0
    record_every_seconds: float = 240.0
    kill_every_seconds: float = 100.0
    restart_every_seconds: float = 240.0
    load_every_seconds: float = 400.0
    seed: int = 1


def run(root: Path, plan: Plan) -> dict[str, Any]:
    """Run the plan in a new workspace; figures: made, lost, twice, other than made, and how."""
    workspace = _workspace(root / "school")
    server = Server(workspace).start()
    tablets = _tablets(root, plan, workspace, server.port)
    over, ended = threading.Event(), threading.Event()
    workers = [threading.Thread(target=_use, args=(one, plan, over, ended)) for one in tablets]
    for worker in workers:
        worker.start()
    try:
        gone, loader = _disturb(server, workspace, plan)
        over.set()
        if loader is not None:
            loader.wait(timeout=1800)
        deadline = time.monotonic() + 300
        while any(one.waiting() for one in tablets) and time.monotonic() < deadline:
            ended.wait(0.2)
    finally:
        ended.set()
        for worker in workers:
            worker.join()
        server.stop()
    return {**_counted(workspace, tablets), **gone}


def _use(tablet: Tablet, plan: Plan, over: threading.Event, ended: threading.Event) -> None:
    """What one person does: write, send, meet a bad net, wait longer, be reloaded."""
    pace = plan.record_every_seconds / plan.speed
    next_record, pause = time.monotonic() + pace * tablet.chance.random(), 0.0
    next_try = time.monotonic()
    while not ended.is_set():
        now = time.monotonic()
        if now >= next_record and not over.is_set():
            tablet.write()
            next_record = now + pace * tablet.chance.uniform(0.5, 1.5)
            next_try = now
        if now >= next_try and tablet.waiting():
            is_done = tablet.send()
            pause = 0.0 if is_done else min(6.0, max(0.2, pause * 2))
            next_try = time.monotonic() + pause * tablet.chance.uniform(0.5, 1.0)
            # A reload forgets how long it had been waiting; what waits is on the device.
            if tablet.chance.random() < 0.05:
                tablet.tried["reloads"] += 1
                pause = 0.0
        ended.wait(0.05)


def _disturb(
    server: Server, workspace: Workspace, plan: Plan
) -> tuple[dict[str, int], subprocess.Popen[bytes] | None]:
    """Kill, restart and load at their times until the minutes are over.

    How often each was done, and the last load, which may still be at work.
    """
    began = time.monotonic()
    every = {
        "kills": plan.kill_every_seconds, "restarts": plan.restart_every_seconds,
        "loads": plan.load_every_seconds,
    }  # fmt: skip
    due = dict(every)
    done: Counter[str] = Counter(kills=0, restarts=0, loads=0)
    pause, loader = threading.Event(), None
    while (simulated := (time.monotonic() - began) * plan.speed) < plan.minutes * 60:
        for name in [name for name, at in due.items() if simulated >= at]:
            if name == "loads" and loader is not None and loader.poll() is None:
                continue
            due[name] = simulated + every[name]
            done[name] += 1
            if name == "loads":
                loader = _load(workspace)
            else:
                server.stop(signal.SIGKILL if name == "kills" else signal.SIGTERM)
                pause.wait(0.5)
                server.start()
        pause.wait(0.05)
    return dict(done), loader


def _load(workspace: Workspace) -> subprocess.Popen[bytes]:
    """The command itself, beside the server; an empty inbox is no trouble."""
    command = [sys.executable, "-m", "ingest.cli", "load", "-w", str(workspace.root)]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _counted(workspace: Workspace, tablets: Sequence[Tablet]) -> dict[str, Any]:
    made = {key: record for one in tablets for key, record in one.made.items()}
    names = Counter(
        (parts[1], int(parts[2] or 1)) for path in _files(workspace) if (parts := _parts(path))
    )
    files = {
        "records": len(made),
        "files_lost": sum(key not in names for key in made),
        "files_twice": sum(count - 1 for count in names.values()),
        "files_of_nobody": sum(key not in made for key in names),
        "still_on_tablets": sum(len(one.waiting()) for one in tablets),
    }
    began = time.monotonic()
    waiting = sorted(path for path in workspace.inbox.iterdir())
    if waiting:
        intake.load(waiting, workspace, SETTINGS, datetime.now(UTC))
    landed = {**_landed(workspace, made), "last_load_files": len(waiting)}
    seconds = {"last_load_seconds": round(time.monotonic() - began, 1)}
    tried = sum((one.tried for one in tablets), Counter())
    return {**files, **landed, **seconds, "tried": dict(tried)}


def _files(workspace: Workspace) -> list[Path]:
    """Files in the inbox, and copies among the received that have left it."""
    return [*workspace.inbox.iterdir(), *workspace.received.iterdir()]


def _parts(path: Path) -> Any:
    return re.fullmatch(
        r"(?:[0-9a-f]{12}-)?(?:routine_lessons|observation_sessions)-([0-9a-f-]{36})"
        r"(?:_(\d\d))?\.(?:csv|zip)",
        path.name,
    )


def _landed(workspace: Workspace, made: dict[tuple[str, int], dict[str, Any]]) -> dict[str, int]:
    """Each record in the landing store, compared cell by cell with its last revision."""
    last: dict[str, dict[str, Any]] = {}
    for (key, _), record in sorted(made.items(), key=lambda one: one[0][1]):
        last[key] = record
    with duckdb.connect(str(workspace.landing), read_only=True) as con:
        lessons = con.execute("select lesson_id, note from latest.routine_lessons").fetchall()
        looks = con.execute(
            "select observation_id, cast(minutes_observed as varchar) "
            "from latest.observation_sessions"
        ).fetchall()
        rows = con.execute(
            "select observation_id, row_number, code from latest.observation_rows order by all"
        ).fetchall()
        held = con.execute("select count(*) from ledger.quarantine").fetchone()
    stood = Counter(str(key) for key, _ in (*lessons, *looks) if str(key) in last)
    told = {str(key): str(value) for key, value in (*lessons, *looks)}
    rated: dict[str, list[tuple[str, str]]] = {}
    for key, number, code in rows:
        rated.setdefault(str(key), []).append((str(number), str(code)))
    present = {key: one for key, one in last.items() if one["cells"].get("voided") != "true"}
    return {
        "keys": len(last),
        "withdrawn": len(last) - len(present),
        "landed_lost": sum(key not in stood for key in present),
        "landed_twice": sum(count - 1 for count in stood.values()),
        "withdrawn_but_there": sum(key in stood for key in last if key not in present),
        "other_than_made": sum(
            not _agrees(one, told.get(key), rated.get(key, [])) for key, one in present.items()
        ),
        "set_aside": int(held[0]) if held else 0,
    }


def _agrees(record: dict[str, Any], told: str | None, rows: list[tuple[str, str]]) -> bool:
    cells = record["cells"]
    if record["feed"] == "routine_lessons":
        return told == cells["note"]
    own = [(row["row_number"], row["code"]) for row in record["rows"]]
    return told == cells["minutes_observed"] and sorted(rows) == sorted(own)


def _workspace(root: Path) -> Workspace:
    """The mini school of the tests, loaded, with a build that shows two of its classes."""
    workspace = Workspace(root)
    workspace.make_folders()
    text = f'[school]\nid = "{_SCHOOL}"\nname = "Quillbrook Primary (invented)"\n'
    workspace.settings_path.write_text(text, "utf-8")
    intake.load(BASE, workspace, SETTINGS, NOW)
    write_snapshot(root, _shown(), is_demo=False)
    return workspace


def _shown() -> dict[str, list[dict[str, Any]]]:
    school = {"school_id": _SCHOOL, "school_name": "Quillbrook Primary (invented)"}
    card = {"school_id": _SCHOOL, "pupil_count": 6}
    return {
        "mart_school": [school],
        "mart_routines": [{"school_id": _SCHOOL, "routine_id": "settle", "name": "Settling"}],
        "mart_settings": [{"setting_name": "think_seconds", "value": 3.0}],
        "room_class": [{**card, "class_id": one, "title": one} for one in _CLASSES],
    }


def _tablets(root: Path, plan: Plan, workspace: Workspace, port: int) -> list[Tablet]:
    """Signed-in devices, in turn of the two classes."""
    now = datetime.now(UTC)
    for class_id, person in _CLASSES.items():
        accounts.add(workspace, class_id, class_id, "teacher", class_id, None, now, person)
    own = door.open_door(workspace.root, door.Rules(), now.timestamp)
    days = [day for day in school_days(date(2025, 9, 2), date(2025, 10, 17)) if day not in _OFF]
    made = []
    for number in range(plan.tablets):
        account = own.accounts.named(list(_CLASSES)[number % 2])
        assert account
        folder = root / f"tablet-{number}"
        folder.mkdir()
        made.append(
            Tablet(
                number=number, port=port, cookie=own.let_in(guest_of(account, "password")),
                person=self_key(account.reader, account.subject), folder=folder, days=days,
                net=Net(), chance=random.Random(plan.seed * 1000 + number),
            )
        )  # fmt: skip
    own.store.close()
    return made


def main(arguments: Sequence[str] | None = None) -> int:
    """Run, print the figures as JSON; 1 when anything was lost, twice or other than made."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulation.tablets", description=__doc__)
    parser.add_argument("--tablets", type=int, default=Plan.tablets)
    parser.add_argument("--minutes", type=float, default=Plan.minutes)
    parser.add_argument("--speed", type=float, default=Plan.speed)
    parser.add_argument("--seed", type=int, default=Plan.seed)
    told = vars(parser.parse_args(arguments))
    root = Path(tempfile.mkdtemp(prefix="tablets-"))
    try:
        figures = run(root, Plan(**told))
    finally:
        shutil.rmtree(root, ignore_errors=True)
    print(json.dumps({**told, **figures}, indent=1))
    return 1 if any(figures[name] for name in WRONG) else 0


WRONG = (
    "files_lost", "files_twice", "files_of_nobody", "still_on_tablets", "landed_lost",
    "landed_twice", "withdrawn_but_there", "other_than_made", "set_aside",
)  # fmt: skip

if __name__ == "__main__":
    sys.exit(main())
