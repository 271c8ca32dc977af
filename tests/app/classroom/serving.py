"""A dashboard behind its sign-in that can be taken away and brought back at the same address."""

from __future__ import annotations

import os
import signal
import subprocess
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Page, expect

from ingest import serve, settings
from ingest.serve import Dashboard
from ingest.workspace import Workspace
from tests.app.browser.guarded import press_in
from tests.app.browser.servers import free_port, wait_for

ROOT = Path(__file__).resolve().parents[3]


@dataclass
class Server:
    """One server; `app` is the folder of the code, so that a newer version can take its place."""

    workspace: Workspace
    port: int = field(default_factory=free_port)
    app: Path = ROOT / "app"
    sign_in: dict[str, Any] = field(default_factory=dict)
    child: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> Server:
        told = settings.load(self.workspace.settings_path)
        told = replace(told, sign_in=replace(told.sign_in, **self.sign_in))
        text = serve.sign_in_text(self.workspace, told, "127.0.0.1")
        base = urlsplit(told.sign_in.public_address).path
        dashboard = Dashboard(self.workspace, "principal", sign_in=text, folder=self.app, base=base)
        own = serve.environment(dashboard, self.port, os.environ)
        path = os.pathsep.join((str(self.app.parent), str(ROOT)))
        self.child = subprocess.Popen(
            dashboard.program, cwd=self.app, env={**own, "PYTHONPATH": path},
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        wait_for(f"{self.address}{base}/health", self.child)
        return self

    def stop(self, how: signal.Signals = signal.SIGKILL) -> None:
        """Without a word of warning, unless said otherwise; one that lingers is not waited for."""
        if self.child is None:
            return
        self.child.send_signal(how)
        try:
            self.child.wait(timeout=15)
        except subprocess.TimeoutExpired:
            self.child.kill()
            self.child.wait(timeout=30)
        self.child = None


def arrive(page: Page, address: str, name: str = "maren") -> None:
    """Open the classroom page, signing in on the way; the worker is in charge afterwards."""
    page.goto(f"{address}/classroom")
    press_in(page, name)
    page.wait_for_url(f"{address}/classroom*")
    page.locator("#bar a").first.wait_for()
    page.evaluate(
        """() => new Promise((done) => {
            const look = () => navigator.serviceWorker.controller && done(true);
            navigator.serviceWorker.addEventListener('controllerchange', look);
            look();
        })"""
    )


KEEP = """async (minutes) => {
    const { kit } = await import(new URL('classroom/files/kit.js', document.baseURI));
    const key = kit.fresh();
    await kit.keep({ key, revision: 1, feed: 'routine_lessons', cells: {
        routine_id: 'voice', taught_on: '2026-05-15', lesson_kind: 'booster', mode: 'in_person',
        status: 'delivered', minutes, entered_at: '' } });
    return key;
}"""


def keep(page: Page, minutes: str = "10") -> str:
    """Write a lesson down as a screen would; its key."""
    key: str = page.evaluate(KEEP, minutes)
    return key


def sent_away(page: Page) -> None:
    """Wait until the line of the queue says that all is sent."""
    expect(page.locator("#queue")).to_have_text("all sent", timeout=90_000)


def inbox(workspace: Workspace) -> list[str]:
    """What has landed."""
    return sorted(path.name for path in workspace.inbox.glob("*.csv"))
