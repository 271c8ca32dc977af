"""The dashboard is a child process, open to others only behind a sign-in, and ends when told to."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import urllib.request
from dataclasses import replace
from pathlib import Path

import pytest

from ingest import serve, snapshot
from ingest.errors import Problem, UsageProblem
from ingest.serve import Dashboard
from ingest.settings import Settings, SignIn
from ingest.snapshot import Snapshot
from ingest.workspace import Workspace
from tests.ingest.worlds import SETTINGS, land, make_build, make_workspace

BEHIND = replace(
    SETTINGS,
    sign_in=SignIn(public_address="https://school.example", trusted_proxy="127.0.0.1"),
)

# Answers like the dashboard's server, with what it was given in the environment.
PAGE = """
import http.server, json, os
class Page(http.server.BaseHTTPRequestHandler):
    def do_GET(self):
        self.send_response(200)
        self.end_headers()
        self.wfile.write(json.dumps({**os.environ, "cwd": os.getcwd()}).encode())
    def log_message(self, *told):
        print(*told)
address = (os.environ["STREAMLIT_SERVER_ADDRESS"], int(os.environ["STREAMLIT_SERVER_PORT"]))
http.server.HTTPServer(address, Page).serve_forever()
"""


DEAF = """
import signal, sys
signal.signal(signal.SIGTERM, signal.SIG_IGN)
print("on", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path / "ws")
    land(made)
    make_build(made)
    return made


@pytest.fixture
def current(workspace: Workspace) -> Snapshot:
    return snapshot.current(workspace)


@pytest.mark.parametrize(
    "reader", ["principal", "support", "steward", "teacher:room-1", "teacher:room-2"]
)
def test_a_reader_that_exists_may_be_opened_for(current: Snapshot, reader: str) -> None:
    serve.check_reader(reader, current)


@pytest.mark.parametrize(
    ("reader", "told"),
    [
        ("head", "principal, support, steward, teacher:<class>"),
        ("teacher", "teacher:<class>"),
        ("teacher:", "teacher:<class>"),
        ("principal:room-1", "teacher:<class>"),
        ("teacher:room-9", "room-1, room-2"),
        ("", "principal"),
    ],
)
def test_a_reader_that_does_not_exist_is_told_who_does(
    current: Snapshot, reader: str, told: str
) -> None:
    with pytest.raises(UsageProblem) as problem:
        serve.check_reader(reader, current)
    assert told in problem.value.rule


@pytest.mark.parametrize("address", ["127.0.0.1", "127.8.8.8", "::1", "localhost"])
def test_a_loopback_address_is_taken(address: str) -> None:
    for settings in (SETTINGS, replace(SETTINGS, is_demo=True)):
        assert serve.check_address(address, settings, asks_who=False) != "localhost"


@pytest.mark.parametrize(
    "address", ["0.0.0.0", "192.168.1.7", "::", "10.0.0.1", "school.example", ""]
)
def test_any_other_address_is_refused_without_a_sign_in(address: str) -> None:
    with pytest.raises(UsageProblem, match="not opened on"):
        serve.check_address(address, BEHIND, asks_who=False)


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        (SETTINGS, "passwords travel by https only"),
        (replace(SETTINGS, sign_in=replace(BEHIND.sign_in, trusted_proxy="")), "https only"),
        (
            replace(SETTINGS, sign_in=replace(BEHIND.sign_in, public_address="http://x.example")),
            "https only",
        ),
        (replace(BEHIND, is_demo=True), "invented school"),
    ],
)
def test_others_reach_a_sign_in_by_https_only_and_an_invented_school_never(
    settings: Settings, told: str
) -> None:
    assert serve.check_address("0.0.0.0", BEHIND, asks_who=True) == "0.0.0.0"
    with pytest.raises(UsageProblem) as problem:
        serve.check_address("0.0.0.0", settings, asks_who=True)
    assert told in problem.value.rule


def test_a_busy_port_is_replaced_by_a_free_one() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        other = serve.free_port("127.0.0.1", port)
    assert other != port
    assert serve.free_port("127.0.0.1", other) == other


def test_the_child_is_told_what_to_show_to_whom_and_to_call_nobody(workspace: Workspace) -> None:
    told = serve.environment(Dashboard(workspace, "teacher:room-1"), 8601, {"PYTHONPATH": "own"})
    assert told["ROUNDELAY_WORKSPACE"] == str(workspace.root)
    assert told["ROUNDELAY_READER"] == "teacher:room-1"
    assert told["STREAMLIT_SERVER_ADDRESS"] == "127.0.0.1"
    assert told["STREAMLIT_SERVER_PORT"] == "8601"
    assert told["STREAMLIT_RUNNER_POST_SCRIPT_GC"] == "false"
    assert told["STREAMLIT_BROWSER_GATHER_USAGE_STATS"] == "false"
    assert told["STREAMLIT_CLIENT_SHOW_ERROR_DETAILS"] == "none"
    assert told["FORWARDED_ALLOW_IPS"] == ""
    assert told["PYTHONPATH"].split(os.pathsep) == [str(serve.ROOT), "own"]


def test_where_people_sign_in_nobody_reads_by_a_setting(workspace: Workspace) -> None:
    dashboard = Dashboard(workspace, "principal", sign_in="{}", base="/roundelay")
    told = serve.environment(dashboard, 8601, {"ROUNDELAY_READER": "support"})
    assert (told["ROUNDELAY_READER"], told["ROUNDELAY_SIGN_IN"]) == ("", "{}")
    assert told["STREAMLIT_SERVER_BASE_URL_PATH"] == "/roundelay"
    alone = serve.environment(Dashboard(workspace, "support"), 8601, {"ROUNDELAY_SIGN_IN": "{}"})
    assert (alone["ROUNDELAY_READER"], alone["ROUNDELAY_SIGN_IN"]) == ("support", "")


def test_every_setting_for_the_server_is_one_that_it_knows() -> None:
    listing = "import streamlit.config as c; print(*sorted(c.get_config_options()), sep='\\n')"
    done = subprocess.run(
        [sys.executable, "-c", listing], capture_output=True, text=True, check=True
    )
    known = {name.replace(".", "").lower() for name in done.stdout.split()}
    names = [name for name in serve._STREAMLIT if name.startswith("STREAMLIT_")]
    own = {name.removeprefix("STREAMLIT_").replace("_", "").lower() for name in names}
    assert len(own) > 5
    assert own <= known


def test_the_address_is_told_once_pages_are_answered_and_the_child_is_stopped(
    workspace: Workspace, tmp_path: Path
) -> None:
    dashboard = Dashboard(
        workspace, "support", port=0, folder=tmp_path, program=(sys.executable, "-c", PAGE)
    )
    answers: list[bytes] = []

    def ready(url: str) -> None:
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        answers.append(opener.open(url).read())
        answers.append(url.encode())
        os.kill(os.getpid(), signal.SIGTERM)

    with pytest.raises(KeyboardInterrupt):
        serve.serve(dashboard, tmp_path / "log", ready)
    assert b'"ROUNDELAY_READER": "support"' in answers[0]
    assert str(tmp_path).encode() in answers[0]
    port = int(answers[1].rsplit(b":", 1)[1])
    assert serve.free_port("127.0.0.1", port) == port
    assert "GET /up" in (tmp_path / "log").read_text("utf-8")
    assert signal.getsignal(signal.SIGTERM) == signal.SIG_DFL


def test_a_dashboard_that_does_not_start_is_said_with_its_log(
    workspace: Workspace, tmp_path: Path
) -> None:
    program = (sys.executable, "-c", "import sys; sys.exit('no such thing')")
    with pytest.raises(Problem, match="did not start") as problem:
        serve.serve(
            Dashboard(workspace, "support", port=0, folder=tmp_path, program=program),
            tmp_path / "log",
            pytest.fail,
        )
    assert problem.value.where == str(tmp_path / "log")
    assert "no such thing" in (tmp_path / "log").read_text("utf-8")


def test_a_child_that_will_not_end_politely_is_ended_firmly(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", DEAF], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as child:
        assert child.stdout is not None
        child.stdout.readline()
        serve.stop(child, polite_seconds=0.1)
        assert child.returncode != 0
    serve.stop(child)


def test_asked_to_end_a_second_time_while_a_child_lingers_nothing_is_left_behind() -> None:
    class AskedAgain(subprocess.Popen[bytes]):
        """Ctrl-C, or another SIGTERM, comes while the child is being waited for."""

        def wait(self, timeout: float | None = None) -> int:
            if timeout is not None:
                raise KeyboardInterrupt
            return super().wait()

    with AskedAgain(
        [sys.executable, "-c", DEAF], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as child:
        assert child.stdout is not None
        child.stdout.readline()
        with pytest.raises(KeyboardInterrupt):
            serve.stop(child, polite_seconds=60)
        assert child.returncode not in (None, 0)
