"""A server of the dashboard on a free port of this machine, and a Chromium that looks at it."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).resolve().parents[3]
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage",
)  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The Chromium of this machine. Without one the tests are not run; in CI that is a failure."""
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None and os.environ.get("CI"):
        pytest.fail("No Chromium was found, and CI must look at the pages.")
    if found is None:
        pytest.skip("not run: no Chromium was found on this machine")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found, args=list(FLAGS))
        yield started
        started.close()


@contextmanager
def served(workspace: Path, reader: str) -> Iterator[str]:
    """The address of a dashboard over a workspace, stopped at the end."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = {
        **os.environ,
        "ROUNDELAY_WORKSPACE": str(workspace),
        "ROUNDELAY_READER": reader,
        "PYTHONPATH": str(ROOT),
    }
    command = [sys.executable, "-m", "streamlit", "run", "main.py", "--server.port", str(port)]
    child = subprocess.Popen(
        command,
        cwd=ROOT / "app",
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_until_it_answers(address, child)
        yield address
    finally:
        child.terminate()
        child.wait(timeout=20)


def _wait_until_it_answers(address: str, child: subprocess.Popen[bytes]) -> None:
    """Ask again until the server answers, a tenth of a second apart."""
    pause = threading.Event()
    for _ in range(600):
        assert child.poll() is None, "the dashboard stopped before it answered"
        try:
            with urllib.request.urlopen(f"{address}/_stcore/health", timeout=5):
                return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            pause.wait(0.1)
    pytest.fail("the dashboard did not answer")
