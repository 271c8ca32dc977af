"""Starts the dashboard as a child process, on this machine only, and stops it cleanly.

Until there is a sign-in, whoever can reach the address reads what the starter may read. So the
address must be a loopback one, for an invented school as for a real one.
"""

import importlib.util
import ipaddress
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from ingest.errors import Problem, UsageProblem, WorkspaceProblem
from ingest.settings import READERS
from ingest.snapshot import Snapshot
from ingest.workspace import Workspace

ROOT = Path(__file__).resolve().parents[1]
_READY_SECONDS = 60.0
# `runner.postScriptGC`: collecting garbage after each page cost seconds on two cores.
_STREAMLIT = {
    "STREAMLIT_SERVER_HEADLESS": "true",
    "STREAMLIT_SERVER_ENABLE_STATIC_SERVING": "true",
    "STREAMLIT_SERVER_FILE_WATCHER_TYPE": "none",
    "STREAMLIT_SERVER_RUN_ON_SAVE": "false",
    "STREAMLIT_BROWSER_GATHER_USAGE_STATS": "false",
    "STREAMLIT_CLIENT_TOOLBAR_MODE": "minimal",
    "STREAMLIT_CLIENT_SHOW_ERROR_DETAILS": "none",
    "STREAMLIT_RUNNER_POST_SCRIPT_GC": "false",
}


@dataclass(frozen=True)
class Dashboard:
    """What to start: for whom, where, and which program (the app's folder and its first file)."""

    workspace: Workspace
    reader: str
    address: str = "127.0.0.1"
    port: int = 8501
    folder: Path = ROOT / "app"
    program: tuple[str, ...] = (sys.executable, "-m", "streamlit", "run", "main.py")


def check_reader(reader: str, snapshot: Snapshot) -> None:
    """Whether a reader named on the command line exists; `UsageProblem` says who does."""
    role, _, class_id = reader.partition(":")
    if role not in READERS or (role == "teacher") != bool(class_id):
        raise UsageProblem(
            f"There is no reader '{reader}'.",
            rule="readers are: principal, support, steward, teacher:<class>",
            remedy="for example: roundelay open --as teacher:room-3",
        )
    if role == "teacher" and class_id not in snapshot.rooms:
        some = ", ".join(sorted(snapshot.rooms)[:8])
        raise UsageProblem(
            f"There is no class '{class_id}' in the current build.",
            rule=f"classes are, among others: {some}" if some else "the build has no classes",
            remedy="name the class by its key, as in the classes file",
        )


def check_address(address: str) -> str:
    """A loopback address; `UsageProblem` for any other, whatever the workspace holds."""
    text = "127.0.0.1" if address == "localhost" else address
    try:
        if ipaddress.ip_address(text).is_loopback:
            return text
    except ValueError:
        pass
    raise UsageProblem(
        f"The dashboard is not opened on the address '{address}'.",
        rule="it has no sign-in yet, so others on the network would read what you may read",
        remedy="leave --address out; it is then opened on this machine only",
    )


def free_port(address: str, wanted: int) -> int:
    """The wanted port when nothing listens there, else one that the system gives."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    for port in (wanted, 0):
        with socket.socket(family) as probe, suppress(OSError):
            if os.name != "nt":  # there it would let two programs listen on one port
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((address, port))
            return int(probe.getsockname()[1])
    raise WorkspaceProblem(
        "No port is free on this machine.", where=address, remedy="close other programs, try again"
    )


def environment(dashboard: Dashboard, port: int, outer: Mapping[str, str]) -> dict[str, str]:
    """The child's environment: what it shows, to whom, and how its server behaves."""
    path = os.pathsep.join(part for part in (str(ROOT), outer.get("PYTHONPATH", "")) if part)
    return {
        **outer,
        **_STREAMLIT,
        "STREAMLIT_SERVER_ADDRESS": dashboard.address,
        "STREAMLIT_SERVER_PORT": str(port),
        "ROUNDELAY_WORKSPACE": str(dashboard.workspace.root),
        "ROUNDELAY_READER": dashboard.reader,
        "PYTHONPATH": path,
        "PYTHONUTF8": "1",
    }


def serve(dashboard: Dashboard, log: Path, when_ready: Callable[[str], None]) -> None:
    """Run the dashboard until it is stopped (Ctrl-C or SIGTERM); its output goes to `log`.

    `when_ready` is called once with the address, as soon as pages are answered there.
    """
    _must_have_streamlit()
    port = free_port(dashboard.address, dashboard.port)
    host = f"[{dashboard.address}]" if ":" in dashboard.address else dashboard.address
    with log.open("w", encoding="utf-8") as output, _stoppable():
        child = subprocess.Popen(
            dashboard.program,
            cwd=dashboard.folder,
            env=environment(dashboard, port, os.environ),
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
        )
        try:
            _wait_until_ready(child, f"http://{host}:{port}", log)
            when_ready(f"http://{host}:{port}")
            child.wait()
        finally:
            stop(child)


def stop(child: subprocess.Popen[bytes], polite_seconds: float = 8.0) -> None:
    """End the child politely, after a while firmly; never leave it behind."""
    if child.poll() is not None:
        return
    child.terminate()
    try:
        child.wait(timeout=polite_seconds)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()


def _must_have_streamlit() -> None:
    if importlib.util.find_spec("streamlit") is None:
        raise WorkspaceProblem(
            "The dashboard's own package is not installed.",
            where="streamlit",
            rule="the dashboard is shown by it",
            remedy="install what requirements.lock names, for example with: make setup",
        )


@contextmanager
def _stoppable() -> Iterator[None]:
    """Treat a polite request to end (SIGTERM) as Ctrl-C while the block runs."""

    def interrupt(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    try:
        before = signal.signal(signal.SIGTERM, interrupt)
    except ValueError:  # not in the main thread: the caller stops us in another way
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _wait_until_ready(child: subprocess.Popen[bytes], url: str, log: Path) -> None:
    until = time.monotonic() + _READY_SECONDS
    while time.monotonic() < until:
        if child.poll() is not None:
            break
        if _answers(f"{url}/_stcore/health"):
            return
        time.sleep(0.1)
    raise Problem(
        "The dashboard did not start.",
        where=str(log),
        rule="it should answer within a minute",
        remedy="show that log to whoever looks after this computer; your data are untouched",
    )


def _answers(url: str) -> bool:
    # No proxy: the address is this machine's own.
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    try:
        with opener.open(url, timeout=2) as answer:
            return bool(answer.status == 200)
    except (urllib.error.URLError, OSError):
        return False
