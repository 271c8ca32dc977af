"""The page under a path of its own, as behind a web server that holds other things too."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.app.browser.conftest import browser as browser
from tests.app.browser.guarded import let_in
from tests.app.browser.servers import free_port
from tests.app.classroom.serving import Server, arrive, inbox, keep, sent_away

pytestmark = pytest.mark.browser


def test_worker_manifest_and_queue_stay_below_the_path(
    real_school: Path, tmp_path: Path, browser: Browser
) -> None:
    shutil.copytree(real_school, tmp_path / "w")
    workspace, port = let_in(tmp_path / "w"), free_port()
    workspace.make_folders()
    own = f"http://127.0.0.1:{port}/roundelay"
    server = Server(workspace, port, sign_in={"public_address": own}).start()
    page = browser.new_context().new_page()
    try:
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        arrive(page, own)
        scope = page.evaluate("navigator.serviceWorker.ready.then((one) => one.scope)")
        assert scope == f"{own}/classroom"
        told = page.context.new_cdp_session(page).send("Page.getAppManifest")
        assert told["errors"] == []
        assert told["url"] == f"{own}/classroom/app.webmanifest"
        assert json.loads(told["data"])["start_url"] == "../classroom"
        server.stop()
        key = keep(page)
        page.reload()
        page.locator("#bar a").first.wait_for()
        assert "1 waiting to send" in page.locator("#queue").inner_text()
        server.start()
        sent_away(page)
        assert inbox(workspace) == [f"routine_lessons-{key}.csv"]
        assert [url for url in asked if not url.startswith(f"{own}/")] == []
    finally:
        page.context.close()
        server.stop()
