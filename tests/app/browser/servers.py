"""What every server that a test or a benchmark starts needs: a port, and patience."""

from __future__ import annotations

import shutil
import socket
import subprocess
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, sync_playwright

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage",
)  # fmt: skip
_NAMES = ("chromium", "chromium-browser", "google-chrome")


def chromium() -> str | None:
    """Where the Chromium of this machine is."""
    return next((path for name in _NAMES if (path := shutil.which(name))), None)


_RUNNING: list[Browser] = []


@contextmanager
def one_browser(path: str) -> Iterator[Browser]:
    """The one Chromium of this process, whichever folder of tests asks first; two cannot be."""
    if _RUNNING:
        yield _RUNNING[0]
        return
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        _RUNNING.append(started)
        yield started
        _RUNNING.clear()
        started.close()


def free_port() -> int:
    """A port on which nothing listens."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def wait_for(address: str, child: subprocess.Popen[bytes]) -> None:
    """Ask again until the address answers, a tenth of a second apart."""
    pause = threading.Event()
    for _ in range(600):
        assert child.poll() is None, "the dashboard stopped before it answered"
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            pause.wait(0.1)
    raise AssertionError("the dashboard did not answer")
