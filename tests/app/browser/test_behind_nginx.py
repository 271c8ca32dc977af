"""One school on one machine behind nginx with https and a path, as docs/deploy.md has it."""

from __future__ import annotations

import http.client
import ssl
from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser

from tests.app.browser.guarded import WORDS, guarded, let_in
from tests.app.browser.looking import DRAWN
from tests.app.browser.servers import free_port
from tests.app.browser.web_server import web_server
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def public(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root, place = tmp_path_factory.mktemp("school"), tmp_path_factory.mktemp("nginx")
    write_snapshot(root, rows(), is_demo=False)
    port = free_port()
    address = f"https://localhost:{port}/roundelay"
    told = {"public_address": address, "trusted_proxy": "127.0.0.1"}
    with guarded(let_in(root), **told) as behind:
        inner = urlsplit(behind).port
        assert inner is not None
        with web_server(place, port, inner) as at:
            assert at == address
            yield at


def test_a_reader_signs_in_and_a_page_is_drawn_over_the_websocket(
    public: str, browser: Browser
) -> None:
    context = browser.new_context(ignore_https_errors=True)
    page = context.new_page()
    sockets: list[str] = []
    page.on("websocket", lambda one: sockets.append(one.url))
    page.goto(f"{public}/grades")
    assert urlsplit(page.url).path == "/roundelay/signin"
    page.fill("#name", "anna")
    page.fill("[type=password]", WORDS)
    page.keyboard.press("Enter")
    page.wait_for_function(DRAWN, timeout=45_000)
    assert page.inner_text("h1").startswith("By grade")
    assert urlsplit(page.url).path == "/roundelay/grades"
    assert sockets
    assert all(url.startswith("wss://localhost") and "/roundelay/" in url for url in sockets)
    [visit] = [one for one in context.cookies() if one["name"] == "__Host-roundelay"]
    assert (visit["secure"], visit["httpOnly"], visit["sameSite"]) == (True, True, "Lax")
    page.get_by_role("link", name="By routine").click()
    page.wait_for_url(f"{public}/routines*")
    page.wait_for_function(DRAWN, timeout=45_000)
    context.close()


def _answer(public: str, path: str, **headers: str) -> http.client.HTTPResponse:
    at = urlsplit(public)
    careless = ssl.create_default_context()
    careless.check_hostname, careless.verify_mode = False, ssl.CERT_NONE
    line = http.client.HTTPSConnection(at.hostname or "", at.port, context=careless, timeout=20)
    line.request("GET", path, headers=headers)
    return line.getresponse()


def test_without_a_visit_nothing_is_answered_but_the_door(public: str) -> None:
    assert _answer(public, "/roundelay").getheader("Location", "").endswith("/roundelay/")
    assert _answer(public, "/roundelay/up").status == 200
    for path in ("/roundelay/_stcore/host-config", "/roundelay/_stcore/stream"):
        assert _answer(public, path).status in (401, 403), path
    told = _answer(public, "/roundelay/schoolwide")
    assert told.status in (302, 303)
    assert urlsplit(told.getheader("Location", "")).path == "/roundelay/signin"


def test_https_is_remembered_and_another_host_is_not_answered(public: str) -> None:
    answer = _answer(public, "/roundelay/signin")
    assert answer.status == 200
    assert "max-age=31536000" in answer.getheader("Strict-Transport-Security", "")
    elsewhere = _answer(public, "/roundelay/signin", Host="elsewhere.example")
    assert elsewhere.status in (400, 403, 421)
