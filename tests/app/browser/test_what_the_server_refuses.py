"""What the running server refuses to whoever speaks to it without a browser."""

from __future__ import annotations

import http.client
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest
from playwright.sync_api import Browser

from tests.app.browser.guarded import guarded, let_in, signed_in
from tests.app.browser.looking import window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser

UPGRADE = {
    "Connection": "Upgrade",
    "Upgrade": "websocket",
    "Sec-WebSocket-Version": "13",
    "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
}


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root = tmp_path_factory.mktemp("closed")
    write_snapshot(root, rows(), is_demo=False)
    with guarded(let_in(root)) as at:
        yield at


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"Cookie": "roundelay=" + "a" * 43},
        {"X-Remote-User": "anna", "X-Forwarded-User": "anna", "Remote-User": "anna"},
        {"Cookie": "_streamlit_user=anna", "X-Forwarded-For": "127.0.0.1"},
    ],
)
def test_without_a_visit_no_socket_and_no_part_of_a_page_is_had(
    address: str, more: dict[str, str]
) -> None:
    upgrade = {**UPGRADE, "Sec-WebSocket-Protocol": "streamlit", "Origin": address}
    assert status(address, "/_stcore/stream", {**upgrade, **more}) == 403
    for path in ("/_stcore/health", "/_stcore/host-config", "/media/x", "/static/index.html"):
        assert status(address, path, more) == 401, path
    for path in ("/", "/index.html", "/SIGNIN", "/meeting"):
        assert status(address, path, more) == 303, path
    for path in ("//", "/%2e%2e/", "/signin/../meeting", "/signin%2f..%2fmeeting", "/.//"):
        assert status(address, path, more) == 400, path


def test_a_visit_opens_the_socket_and_another_site_does_not(address: str, browser: Browser) -> None:
    context, seen = window(browser, 820, "light")
    signed_in(seen.page, address, "anna")
    cookie = "; ".join(f"{one['name']}={one['value']}" for one in context.cookies())
    upgrade = {**UPGRADE, "Cookie": cookie}
    assert status(address, "/_stcore/stream", {**upgrade, "Origin": address}) == 101
    assert status(address, "/_stcore/stream", {**upgrade, "Origin": "http://evil.example"}) == 403
    context.close()


def test_the_address_of_a_peer_is_never_taken_from_a_header(tmp_path: Path) -> None:
    """The server's own belief in such headers is off: many tries from one place stay one place."""
    write_snapshot(tmp_path, rows(), is_demo=False)
    with guarded(let_in(tmp_path)) as at:
        places = [{"X-Forwarded-For": f"192.0.2.{number}"} for number in range(32)]
        statuses = [try_password(at, f"guess{n}", place) for n, place in enumerate(places)]
    assert (statuses[0], statuses[-1]) == (401, 429)


def try_password(address: str, name: str, more: dict[str, str]) -> int:
    place = urlsplit(address)
    line = http.client.HTTPConnection(place.hostname or "", place.port or 0, timeout=20)
    line.request("GET", "/signin")
    page = line.getresponse()
    cookie = (page.headers["set-cookie"] or "").split(";")[0]
    found = re.search(r'name="form" value="(\w+)"', page.read().decode())
    fields = {"form": found[1] if found else "", "name": name, "password": "x"}
    kind = {"Content-Type": "application/x-www-form-urlencoded", "Cookie": cookie}
    line.request("POST", "/signin", urlencode(fields), {**kind, **more})
    answered = line.getresponse().status
    line.close()
    return answered


def status(address: str, path: str, headers: dict[str, str]) -> int:
    place = urlsplit(address)
    line = http.client.HTTPConnection(place.hostname or "", place.port or 0, timeout=20)
    line.request("GET", path, headers=headers)
    answered = line.getresponse().status
    line.close()
    return answered
