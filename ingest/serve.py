"""Starts the dashboard as a child process and stops it cleanly.

Without a sign-in, whoever can reach the address reads what the starter may read. So the address is
then a loopback one, and always for an invented school, whose sign-in asks for no password.
"""

import importlib.util
import ipaddress
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from ingest import settings_sign_in
from ingest.errors import Problem, UsageProblem, WorkspaceProblem
from ingest.settings import READERS, Settings
from ingest.snapshot import Snapshot
from ingest.stopping import stoppable
from ingest.workspace import Workspace

ROOT = Path(__file__).resolve().parents[1]
_READY_SECONDS = 60.0
# Its web server waits without end for a request or an answer that is under way, and a tablet that
# went out of reach in the middle of one is never done. What was answered for is on the disk.
_POLITE_SECONDS = 3.0
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
    # The web server itself believes nobody about where a request comes from: the wall decides.
    "FORWARDED_ALLOW_IPS": "",
}


@dataclass(frozen=True)
class Dashboard:
    """What to start: for whom, where, and which program (the app's folder and its first file).

    With `sign_in` (JSON for the door) there is no one reader: each person signs in.
    """

    workspace: Workspace
    reader: str
    address: str = "127.0.0.1"
    port: int = 8501
    folder: Path = ROOT / "app"
    program: tuple[str, ...] = (sys.executable, "-m", "streamlit", "run", "asgi.py")
    sign_in: str = ""
    base: str = ""


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


def check_address(address: str, settings: Settings, asks_who: bool) -> str:
    """An address that the dashboard may be opened on; `UsageProblem` says why another is not.

    Others on the network may reach it only where each person signs in and comes by https, through a
    web server that the settings name; an invented school never.
    """
    text = "127.0.0.1" if address == "localhost" else address
    try:
        if ipaddress.ip_address(text).is_loopback:
            return text
    except ValueError:
        raise _not_opened(
            address, "that is not a numeric address", "for example: 0.0.0.0"
        ) from None
    own = settings.sign_in
    if settings.is_demo:
        rule = "an invented school asks for no password, so it stays on this machine"
        raise _not_opened(address, rule, "look at it from this machine")
    if not asks_who:
        rule = "without a sign-in, others on the network would read what you may read"
        raise _not_opened(address, rule, "first: roundelay account add <name> --role <role>")
    if not own.public_address.startswith("https://") or not own.trusted_proxy:
        rule = "passwords travel by https only, which a web server in front of it provides"
        remedy = "set public_address (https://...) and trusted_proxy under [sign_in]"
        raise _not_opened(address, rule, remedy)
    return text


def _not_opened(address: str, rule: str, remedy: str) -> UsageProblem:
    return UsageProblem(
        f"The dashboard is not opened on the address '{address}'.",
        rule=rule,
        remedy=f"{remedy}; without --address it is opened on this machine only",
    )


def sign_in_text(workspace: Workspace, settings: Settings, address: str) -> str:
    """What the dashboard is told about signing in."""
    told = settings.sign_in.handed_over(workspace.root)
    own = {"school_name": settings.school_name, "is_demo": settings.is_demo}
    return settings_sign_in.as_text({**told, **own, "listens_on": address})


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
    return {
        **surroundings(dashboard.workspace, outer),
        **_STREAMLIT,
        "STREAMLIT_SERVER_ADDRESS": dashboard.address,
        "STREAMLIT_SERVER_PORT": str(port),
        "ROUNDELAY_READER": "" if dashboard.sign_in else dashboard.reader,
        "ROUNDELAY_SIGN_IN": dashboard.sign_in,
        "STREAMLIT_SERVER_BASE_URL_PATH": dashboard.base,
    }


def surroundings(workspace: Workspace, outer: Mapping[str, str]) -> dict[str, str]:
    """What any child of the dashboard's own code finds around it."""
    path = os.pathsep.join(part for part in (str(ROOT), outer.get("PYTHONPATH", "")) if part)
    own = {"ROUNDELAY_WORKSPACE": str(workspace.root), "PYTHONPATH": path, "PYTHONUTF8": "1"}
    return {**outer, **own}


def serve(dashboard: Dashboard, log: Path, when_ready: Callable[[str], None]) -> None:
    """Run the dashboard until it is stopped (Ctrl-C or SIGTERM); its output goes to `log`.

    `when_ready` is called once with the address, as soon as pages are answered there.
    """
    _must_have_streamlit()
    port = free_port(dashboard.address, dashboard.port)
    host = f"[{dashboard.address}]" if ":" in dashboard.address else dashboard.address
    with log.open("w", encoding="utf-8") as output, stoppable():
        child = subprocess.Popen(
            dashboard.program,
            cwd=dashboard.folder,
            env=environment(dashboard, port, os.environ),
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
        )
        try:
            here = f"http://{host}:{port}{dashboard.base}"
            _wait_until_ready(child, here, log)
            when_ready(here)
            child.wait()
        finally:
            stop(child)


def stop(child: subprocess.Popen[bytes], polite_seconds: float = _POLITE_SECONDS) -> None:
    """End the child politely, after a while firmly; never leave it behind, asked twice or not."""
    if child.poll() is not None:
        return
    child.terminate()
    try:
        with suppress(subprocess.TimeoutExpired):
            child.wait(timeout=polite_seconds)
    finally:
        if child.poll() is None:
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


def _wait_until_ready(child: subprocess.Popen[bytes], url: str, log: Path) -> None:
    until = time.monotonic() + _READY_SECONDS
    while time.monotonic() < until:
        if child.poll() is not None:
            break
        if _answers(f"{url}/up"):
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
