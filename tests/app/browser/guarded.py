"""The dashboard behind its sign-in, started as the command starts it."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Page

from ingest import accounts, passwords, serve, settings
from ingest.serve import Dashboard
from ingest.workspace import Workspace
from tests.app.browser.looking import DRAWN
from tests.app.browser.servers import free_port, wait_for

WORDS = "turnip ladder window"
PEOPLE = (
    ("anna", "Anna Berg", "principal", None),
    ("imke", "Imke Solberg", "support", None),
    ("tadeo", "Tadeo Quill", "steward", None),
    ("maren", "Maren Oyelaran", "teacher", "room-3"),
)


@cache
def _hash() -> str:
    return passwords.hashed(WORDS)


def let_in(root: Path, *, is_demo: bool = False) -> Workspace:
    """Settings and four invented people for a workspace that has a build already."""
    workspace = Workspace(root)
    demo = "demo = true\n" if is_demo else ""
    text = f'[school]\nid = "quillbrook"\nname = "Quillbrook Primary (invented)"\n{demo}'
    workspace.settings_path.write_text(text, "utf-8")
    now = datetime.now(UTC)
    for name, shown, role, class_id in PEOPLE:
        stored = None if is_demo else _hash()
        accounts.add(workspace, name, shown, role, class_id, stored, now)
    return workspace


@contextmanager
def guarded(workspace: Workspace, **sign_in: Any) -> Iterator[str]:
    """The address of a dashboard that asks who is reading, stopped at the end."""
    port = free_port()
    told = settings.load(workspace.settings_path)
    told = replace(told, sign_in=replace(told.sign_in, **sign_in))
    text = serve.sign_in_text(workspace, told, "127.0.0.1")
    base = urlsplit(told.sign_in.public_address).path
    dashboard = Dashboard(workspace, "principal", sign_in=text, base=base)
    child = subprocess.Popen(
        dashboard.program,
        cwd=dashboard.folder,
        env=serve.environment(dashboard, port, os.environ),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(f"{address}{base}/up", child)
        yield address
    finally:
        child.terminate()
        child.wait(timeout=20)


def press_in(page: Page, name: str, words: str = WORDS) -> None:
    """By keyboard alone: the name has it already, Tab leads on, Enter sends."""
    page.locator("#name:focus").wait_for()
    page.keyboard.type(name)
    page.keyboard.press("Tab")
    page.keyboard.type(words)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")


def signed_in(page: Page, address: str, name: str, path: str = "") -> None:
    """Ask for a page, sign in on the way, wait until it is drawn."""
    page.goto(f"{address}/{path}")
    press_in(page, name)
    page.wait_for_url(f"{address}/{path}*")
    page.wait_for_function(DRAWN, timeout=45_000)
