"""The one command at work: started once, listened to, given so much time, stopped when asked.

It is a process of its own and goes on when a page is closed, or when the dashboard itself ends;
what it does is whole or not done at all, as on the command line.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections import deque
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from app.desk import diary
from app.desk.desks import Desk
from app.desk.heard import Heard, Trouble, as_object, trouble_in

ROOT = Path(__file__).resolve().parents[2]
_POLITE_SECONDS = 20.0
_LINES_KEPT = 20
_BUSY = 5


class Working(Exception):  # noqa: N818 - an answer: somebody was first
    """Another piece of work was started here and is not done yet."""

    def __init__(self, work: Work) -> None:
        super().__init__(work.kind)
        self.work = work


@dataclass(frozen=True)
class Order:
    """What to start: its kind, what it is about, the command's arguments and its time."""

    kind: str
    about: str
    arguments: tuple[str, ...]
    most_seconds: float


@dataclass
class Work:
    """One command from its start to its end. Read it at any time; only this module changes it."""

    order: Order
    who: str
    started_at: datetime
    child: subprocess.Popen[str]
    heard: Heard = field(default_factory=Heard)
    code: int | None = None
    answer: str = ""
    was_stopped: bool = False
    was_late: bool = False
    other_lines: deque[str] = field(default_factory=lambda: deque(maxlen=_LINES_KEPT))
    over: threading.Event = field(default_factory=threading.Event)

    @property
    def kind(self) -> str:
        """`load`, `build`, `back` or `release`."""
        return self.order.kind

    @property
    def is_over(self) -> bool:
        """Whether the command has ended."""
        return self.over.is_set()

    @property
    def outcome(self) -> str:
        """`working`, `done`, `stopped`, `late`, `busy` or `refused`."""
        if not self.is_over:
            return "working"
        if self.code in (0, 1) and self.trouble is None:
            return "done"
        if self.was_late or self.was_stopped:
            return "late" if self.was_late else "stopped"
        return "busy" if self.code == _BUSY else "refused"

    @property
    def trouble(self) -> Trouble | None:
        """Why it did not do what it was asked, in the command's own words."""
        return trouble_in(self.answer) if self.is_over else None

    @property
    def released(self) -> int:
        """How many rows were let in, as the command's answer has it."""
        count = as_object(self.answer).get("released") if self.is_over else 0
        return count if isinstance(count, int) else 0

    @property
    def warnings(self) -> tuple[str, ...]:
        """What a finished build asks a person to look at."""
        told = as_object(self.answer).get("warnings") if self.is_over else None
        return tuple(str(one) for one in told) if isinstance(told, list) else ()


_AT_WORK: dict[Path, Work] = {}
_GATE = threading.Lock()


def current(desk: Desk) -> Work | None:
    """The work that was started last in this workspace, done or not."""
    return _AT_WORK.get(desk.workspace)


def start(desk: Desk, order: Order) -> Work:
    """Start a command unless one is at work (`Working`): of two at once, one begins."""
    with _GATE:
        before = _AT_WORK.get(desk.workspace)
        if before is not None and not before.is_over:
            raise Working(before)
        work = Work(order, desk.who, datetime.now(UTC), _child(desk, order.arguments))
        _AT_WORK[desk.workspace] = work
    _note(desk, work, f"{order.kind}: {diary.BEGUN}")
    _aside(_follow, desk, work)
    return work


def stop(desk: Desk) -> None:
    """Ask the command at work to end; firmly after a while. What was finished before is kept."""
    work = current(desk)
    if work is None or work.is_over:
        return
    work.was_stopped = True
    _note(desk, work, f"{work.kind}: asked to stop by {desk.who}")
    _aside(_end, work)


def surroundings(desk: Desk) -> dict[str, str]:
    """What a command finds around it: this program's own code, the workspace, and no web server."""
    path = os.pathsep.join(part for part in (str(ROOT), os.environ.get("PYTHONPATH", "")) if part)
    outer = {name: text for name, text in os.environ.items() if not name.startswith("STREAMLIT")}
    own = {"ROUNDELAY_WORKSPACE": str(desk.workspace), "PYTHONPATH": path, "PYTHONUTF8": "1"}
    return {**outer, **own}


def _child(desk: Desk, arguments: Sequence[str]) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-P", "-m", "ingest.cli", *arguments],
        cwd=desk.workspace,
        env=surroundings(desk),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        errors="replace",
        start_new_session=True,
    )


def _follow(desk: Desk, work: Work) -> None:
    """Listen to both voices of the command until it ends, or until its time is over."""
    voices = (_aside(_listen, work), _aside(_hear_answer, desk, work))
    try:
        work.child.wait(work.order.most_seconds)
    except subprocess.TimeoutExpired:
        work.was_late = True
        _end(work)
    work.code = work.child.wait()
    for voice in voices:
        voice.join(_POLITE_SECONDS)
    work.over.set()
    _note(desk, work, f"{work.kind}: {work.outcome}")


def _aside(what: Callable[..., None], *about: object) -> threading.Thread:
    """Do something beside the pages, which must not wait for it."""
    thread = threading.Thread(None, what, None, about, daemon=True)
    thread.start()
    return thread


def _listen(work: Work) -> None:
    for line in work.child.stderr or ():
        after = work.heard.with_line(line)
        if after is work.heard:
            work.other_lines.append(line.rstrip())
        work.heard = after


def _hear_answer(desk: Desk, work: Work) -> None:
    """The answer, with places inside the workspace as a person there would name them."""
    if work.child.stdout:
        answer = work.child.stdout.read()
        for place, shown in ((f"{desk.workspace}{os.sep}", ""), (f"{desk.workspace}", "workspace")):
            answer = answer.replace(json.dumps(place)[1:-1], shown)
        work.answer = answer


def _end(work: Work) -> None:
    """Politely first, so that the command ends its own children; then its whole group, firmly."""
    child = work.child
    with suppress(ProcessLookupError):
        child.terminate()
    try:
        child.wait(_POLITE_SECONDS)
    except subprocess.TimeoutExpired:
        with suppress(ProcessLookupError, PermissionError):
            if hasattr(os, "killpg"):
                os.killpg(child.pid, signal.SIGKILL)
            else:
                child.kill()


def _note(desk: Desk, work: Work, what: str) -> None:
    at = datetime.now(UTC).isoformat(timespec="seconds")
    diary.write(desk.workspace, diary.Line(at, work.who, what, work.order.about))
