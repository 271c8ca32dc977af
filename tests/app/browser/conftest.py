"""A server of the dashboard on a free port of this machine, and a Chromium that looks at it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.app.browser.servers import chromium, free_port, one_browser, wait_for

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The Chromium of this machine. Without one the tests are not run; in CI that is a failure."""
    found = chromium()
    if found is None and os.environ.get("CI"):
        pytest.fail("No Chromium was found, and CI must look at the pages.")
    if found is None:
        pytest.skip("not run: no Chromium was found on this machine")
    assert found is not None
    with one_browser(found) as started:
        yield started


@contextmanager
def served(workspace: Path, reader: str) -> Iterator[str]:
    """The address of a dashboard over a workspace, stopped at the end."""
    port = free_port()
    environment = {
        **os.environ,
        "ROUNDELAY_WORKSPACE": str(workspace),
        "ROUNDELAY_READER": reader,
        "PYTHONPATH": str(ROOT),
    }
    command = [sys.executable, "-m", "streamlit", "run", "asgi.py", "--server.port", str(port)]
    child = subprocess.Popen(
        command,
        cwd=ROOT / "app",
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(f"{address}/up", child)
        yield address
    finally:
        child.terminate()
        child.wait(timeout=20)
