"""What somebody who should not be in might try, one test for each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import anyio
import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.door import Rules, tokens
from app.door.addresses import asker, is_plain, safe_next
from tests.app.door.inside import HOST, WORDS, School, dashboard, hidden, sign_in, with_rules

CLOSED = ("/", "/grades", "/_stcore/health", "/_stcore/host-config", "/media/a.csv",
          "/static/js/a.js", "/app/static/mark.png", "/component/a", "/signout", "/SIGNIN",
          "/signin/", "/Door/door.css", "/door", "/door/", "/door/a",
          "/door/door.css/", "/signin/demo", "/signin/back", "/signin/x", "/oauth2callback",
          "/auth/login")  # fmt: skip


@pytest.mark.parametrize("path", CLOSED)
def test_nothing_but_the_door_answers_without_a_visit(made: School, path: str) -> None:
    answer = made.browser().get(path)
    assert answer.status_code in (303, 401)
    assert "reader" not in answer.text
    for method in ("POST", "PUT", "DELETE"):
        assert made.browser().request(method, path).status_code == 401


def test_a_socket_without_a_visit_or_from_another_site_is_refused(made: School) -> None:
    with pytest.raises(WebSocketDisconnect) as closed, _stream(made.browser()):
        pass
    assert closed.value.code == 1008
    browser = made.browser()
    sign_in(browser)
    with _stream(browser, origin=f"http://{HOST}") as socket:
        assert socket.receive_text() == "inside"
    for origin in ("https://evil.example", "null", f"http://{HOST}.evil.example", "http://"):
        with pytest.raises(WebSocketDisconnect), _stream(browser, origin=origin):
            pass


def test_a_token_that_was_planted_before_is_worth_nothing_after(made: School) -> None:
    planted = tokens.new()
    browser = made.browser()
    browser.cookies.set("roundelay", planted, domain="127.0.0.1")
    sign_in(browser)
    other = made.browser()
    other.cookies.set("roundelay", planted, domain="127.0.0.1")
    assert other.get("/grades").status_code == 303
    assert made.door.who({"roundelay": planted}) is None


def test_signing_in_again_ends_the_visit_before(made: School) -> None:
    browser, other = made.browser(), made.browser()
    sign_in(browser)
    before = browser.cookies["roundelay"]
    form = hidden(other.get("/signin").text)
    browser.cookies.set("roundelay-form", other.cookies["roundelay-form"], domain="127.0.0.1")
    fields = {"form": form, "name": "maren", "password": WORDS["maren"]}
    assert browser.post("/signin", data=fields).status_code == 303
    assert made.door.who({"roundelay": before}) is None


@pytest.mark.parametrize("form", ["", "0" * 64, "é", "\x00"])
def test_a_form_that_was_not_made_here_signs_nobody_in(made: School, form: str) -> None:
    browser = made.browser()
    browser.get("/signin")
    answer = browser.post("/signin", data={"form": form, "name": "anna", "password": WORDS["anna"]})
    assert answer.status_code == 403
    assert browser.get("/grades").status_code == 303


def test_a_form_made_for_another_browser_or_another_purpose_is_refused(made: School) -> None:
    one, two = made.browser(), made.browser()
    form = hidden(one.get("/signin").text)
    two.get("/signin")
    fields = {"form": form, "name": "anna", "password": WORDS["anna"]}
    assert two.post("/signin", data=fields).status_code == 403
    sign_in(two)
    for given in (form, tokens.form_token("signin", two.cookies["roundelay"]), ""):
        assert two.post("/signout", data={"form": given}).status_code == 403
    assert two.get("/grades").status_code == 200


def test_a_form_sent_from_another_site_is_refused(made: School) -> None:
    browser = made.browser()
    form = hidden(browser.get("/signin").text)
    fields = {"form": form, "name": "anna", "password": WORDS["anna"]}
    for origin in ("https://evil.example", "null", "http://127.0.0.1:9999"):
        answer = browser.post("/signin", data=fields, headers={"origin": origin})
        assert answer.status_code == 403, origin
    assert browser.post("/signin", data=fields).status_code == 303


def test_leaving_needs_a_form_and_no_mere_link(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    browser.get("/signout")
    assert browser.get("/grades").status_code == 200


@pytest.mark.parametrize(
    "wanted",
    ["//evil.example", "https://evil.example", "/\\evil.example", "\\\\evil.example", "/%2f%2fevil",
     "javascript:alert(1)", "/a\r\nSet-Cookie: x=1", "/../signin", "/signin", "/signout?x=1", "",
     "/./x", "/a/b", " /grades", "/grades#x", "/" + "a" * 2000, "/?next=\\", "/grades?a=<b>"],
)  # fmt: skip
def test_the_page_after_signing_in_is_always_one_of_ours(made: School, wanted: str) -> None:
    assert safe_next(wanted) == "/"
    assert sign_in(made.browser(), wanted=wanted).headers["location"] == "/"


def test_a_page_of_ours_with_its_choices_is_reached_after_signing_in(made: School) -> None:
    address = "/routines?routine=Lining%20up&term=spring&view_as=a%2Bb"
    led = made.browser().get(address).headers["location"]
    browser = made.browser()
    page = browser.get(led)
    fields = {"form": hidden(page.text), "name": "anna", "password": WORDS["anna"]}
    assert 'name="next" value="/routines?' in page.text
    wanted = page.text.split('name="next" value="')[1].split('"')[0].replace("&amp;", "&")
    assert browser.post("/signin", data={**fields, "next": wanted}).headers["location"] == address


@pytest.mark.parametrize(
    "path",
    [b"//", b"//signin", b"/signin//", b"/%2e%2e/x", b"/..", b"/a/../b", b"/./a", b"/signin/.",
     b"/%73ignin", b"/signin%00", b"/signin%2f..%2fgrades", b"/a\\b", b"/a;b", b"/a b", b"", b"a",
     b"/.git/config", b"/\xc3\xa9", b"/door/..%5caccounts.sqlite", b"/a\n"],
)  # fmt: skip
def test_a_path_that_can_be_read_in_two_ways_is_turned_away(path: bytes) -> None:
    assert not is_plain(path)


@pytest.mark.parametrize(
    ("path", "raw"),
    [("/signin", b"/%73ignin"), ("/grades", b"//grades"), ("/signin/../grades", None),
     ("/door/door.css", b"/door%2fdoor.css"), ("/a;b", None)],
)  # fmt: skip
def test_the_wall_turns_it_away_for_a_reader_who_is_signed_in_too(
    made: School, path: str, raw: bytes | None
) -> None:
    browser = made.browser()
    sign_in(browser)
    headers = [
        (b"host", HOST.encode()),
        (b"cookie", f"roundelay={browser.cookies['roundelay']}".encode()),
    ]
    scope = {"type": "http", "method": "GET", "path": path, "raw_path": raw, "headers": headers,
             "query_string": b"", "client": ("127.0.0.1", 1), "scheme": "http"}  # fmt: skip
    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def receive() -> Any:
        raise AssertionError("nothing is read of it")

    app = dashboard(made.door.rules, made.door)
    anyio.run(app, scope, receive, send)
    assert sent[0]["status"] == 400


@pytest.mark.parametrize(
    "path",
    [b"/", b"/grades", b"/_stcore/stream", b"/_stcore/upload_file/0a-1/2f", b"/media/0af.csv",
     b"/static/js/index.C0_x-9.js", b"/static/media/Sans-Upright.ttf.B~1.woff2"],
)  # fmt: skip
def test_the_paths_of_the_dashboard_are_plain(path: bytes) -> None:
    assert is_plain(path)


def test_a_very_long_path_is_judged_at_once() -> None:
    assert not is_plain(b"/" + b"a" * 100_000 + b"%")


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "", "localhost@evil.example"]
)
def test_another_name_for_this_server_is_not_answered(made: School, host: str) -> None:
    browser = made.browser()
    sign_in(browser)
    assert browser.get("/grades", headers={"host": host}).status_code == 400


def test_a_reader_by_setting_is_safe_from_other_names_and_other_machines_too() -> None:
    alone = TestClient(dashboard(Rules(), None), base_url="http://localhost:8610")
    assert alone.get("/grades").status_code == 200
    assert alone.get("/grades", headers={"host": "evil.example"}).status_code == 400
    assert alone.get("/grades", headers={"x-forwarded-for": "192.0.2.9"}).status_code == 403
    with pytest.raises(WebSocketDisconnect), _stream(alone, origin="https://evil.example"):
        pass


CLAIMS = ("X-Remote-User", "Remote-User", "X-Forwarded-User", "X-Forwarded-Email", "X-Real-IP",
          "X-Forwarded-Proto", "X-Auth-Request-User", "X-Forwarded-Host", "Forwarded",
          "X-MS-CLIENT-PRINCIPAL-NAME", "X-School-Name")  # fmt: skip


@pytest.mark.parametrize("claim", CLAIMS)
def test_a_header_that_claims_who_is_asking_opens_nothing_and_reaches_nothing(
    made: School, claim: str
) -> None:
    named = with_rules(made, name_header="x-school-name")
    browser = named.browser()
    assert browser.get("/grades", headers={claim: "anna"}).status_code == 303
    sign_in(browser, "maren")
    told = browser.get("/grades", headers={claim: "anna"}).json()
    assert told["reader"] == "teacher:room-3"
    assert claim.lower() not in told["headers"]


def test_only_the_proxy_writes_down_where_somebody_comes_from() -> None:
    rules = Rules(trusted_proxy="10.0.0.1")
    assert asker("10.0.0.1", "198.51.100.7, 192.0.2.4", rules) == "192.0.2.4"
    assert asker("10.0.0.2", "192.0.2.4", rules) == "10.0.0.2"
    for junk in ("", "unknown", "192.0.2.4:80, x"):
        assert asker("10.0.0.1", junk, rules) == "10.0.0.1"


def test_an_oversized_or_strange_form_is_not_read(made: School) -> None:
    browser = made.browser()
    form = hidden(browser.get("/signin").text)
    fields = {"form": form, "name": "anna", "password": "x" * 9000}
    assert browser.post("/signin", data=fields).status_code == 413

    def endless() -> object:
        for _ in range(1000):
            yield b"a" * 1000

    kind = {"content-type": "application/x-www-form-urlencoded"}
    assert browser.post("/signin", content=endless(), headers=kind).status_code == 413  # type: ignore[arg-type]
    assert browser.post("/signin", json=fields).status_code == 415
    assert browser.post("/signin", content=b"name=%ff%fe", headers=kind).status_code == 400
    assert browser.post("/signin", content=b"form=a&form=b", headers=kind).status_code == 400
    many = "&".join(f"a{number}=1" for number in range(50))
    assert browser.post("/signin", content=many, headers=kind).status_code == 400


def test_a_changed_cookie_opens_nothing(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    token = browser.cookies["roundelay"]
    assert browser.get("/grades").status_code == 200
    hashed = tokens.digest(token).hex()
    last = "A" if token[-1] != "A" else "B"
    for other in (token[:-1], token[:-1] + last, token.swapcase(), hashed, "", "'", "a" * 4000):
        stranger = made.browser()
        answer = stranger.get("/grades", headers={"cookie": f"roundelay={other}"})
        assert answer.status_code == 303, other


def test_a_visit_of_another_kind_of_sign_in_does_not_count(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    token = browser.cookies["roundelay"]
    other = replace(made.door, rules=replace(made.door.rules, mode="oidc"))
    assert made.door.who({"roundelay": token}) is not None
    assert other.who({"roundelay": token}) is None


def test_our_pages_allow_no_script_no_frame_and_no_memory(made: School) -> None:
    browser = made.browser()
    pages = [browser.get("/signin")]
    sign_in(browser)
    pages.append(browser.get("/signout"))
    for page in pages:
        policy = page.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "script-src" not in policy
        assert "frame-ancestors 'none'" in policy
        assert page.headers["x-content-type-options"] == "nosniff"
        assert page.headers["referrer-policy"] == "same-origin"
        assert page.headers["cache-control"] == "no-store"
        assert "<script" not in page.text
        assert "style=" not in page.text
    inside = browser.get("/grades").headers
    assert (inside["cache-control"], inside["x-content-type-options"]) == ("no-store", "nosniff")


def _stream(browser: TestClient, origin: str | None = None):  # type: ignore[no-untyped-def]  # noqa: ANN202
    return browser.websocket_connect(
        f"ws://{HOST}/_stcore/stream", headers={"origin": origin} if origin else {}
    )
