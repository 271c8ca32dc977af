"""Behind a proxy that says who is asking: it alone is believed, and only about names."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.door import Rules
from ingest import accounts
from tests.app.door.inside import AT, School, hidden, school

PROXY = "10.0.0.1"
RULES = Rules(mode="proxy", trusted_proxy=PROXY, name_header="x-remote-user")
ANNA = {"x-remote-user": "anna"}


@pytest.fixture
def made(tmp_path: Path) -> School:
    return school(tmp_path, RULES)


def test_the_proxys_word_opens_the_pages_of_that_account(made: School) -> None:
    browser = made.browser(PROXY)
    led = browser.get("/my_class?term=spring", headers={"x-remote-user": "Maren"})
    let = browser.get(led.headers["location"], headers={"x-remote-user": "Maren"})
    assert (let.status_code, let.headers["location"]) == (303, "/my_class?term=spring")
    told = browser.get("/my_class", headers={"x-remote-user": "Maren"}).json()
    assert told["reader"] == "teacher:room-3"
    assert "x-remote-user" not in told["headers"]


@pytest.mark.parametrize("peer", ["127.0.0.1", "10.0.0.2", "::1", "testclient"])
def test_anyone_else_is_not_answered_whatever_they_say(made: School, peer: str) -> None:
    for path in ("/", "/signin", "/_stcore/stream", "/door/door.css"):
        more = {**ANNA, "x-forwarded-for": PROXY, "x-real-ip": PROXY}
        assert made.browser(peer).get(path, headers=more).status_code == 403
    assert made.browser(peer).get("/up").status_code == 200


@pytest.mark.parametrize("name", ["", "nobody", "anna\x00", "closed"])
def test_a_name_without_an_open_account_comes_no_further(made: School, name: str) -> None:
    accounts.add(made.workspace, "closed", "", "support", None, None, AT)
    accounts.close(made.workspace, "closed", AT)
    answer = made.browser(PROXY).get("/signin", headers={"x-remote-user": name} if name else {})
    assert answer.status_code == 403
    assert "roundelay=" not in answer.headers.get("set-cookie", "")


def test_a_visit_counts_only_while_the_proxy_names_the_same_person(made: School) -> None:
    browser = made.browser(PROXY)
    browser.get("/signin", headers=ANNA)
    assert browser.get("/grades", headers=ANNA).status_code == 200
    assert browser.get("/grades", headers={"x-remote-user": "maren"}).status_code == 303
    assert browser.get("/grades").status_code == 303


def test_signing_out_does_not_sign_in_again_at_once(made: School) -> None:
    browser = made.browser(PROXY)
    browser.get("/signin", headers=ANNA)
    form = hidden(browser.get("/signout", headers=ANNA).text)
    led = browser.post("/signout", data={"form": form}, headers=ANNA).headers["location"]
    left = browser.get(led, headers=ANNA)
    assert (left.status_code, "Your visit here has ended" in left.text) == (200, True)
    assert browser.get("/grades", headers=ANNA).status_code == 303


def test_a_closed_account_is_out_at_once(made: School) -> None:
    browser = made.browser(PROXY)
    browser.get("/signin", headers=ANNA)
    accounts.close(made.workspace, "anna", made.clock.moment)
    assert browser.get("/grades", headers=ANNA).status_code == 303
    assert browser.get("/signin", headers=ANNA).status_code == 403


def test_no_password_is_asked_or_taken(made: School) -> None:
    kind = {"content-type": "application/x-www-form-urlencoded", **ANNA}
    answer = made.browser(PROXY).post("/signin", content=b"name=anna", headers=kind)
    assert answer.status_code == 404


def test_two_headers_with_two_names_are_believed_in_neither(made: School) -> None:
    browser = made.browser(PROXY)
    both = [("x-remote-user", "maren"), ("x-remote-user", "anna")]
    assert browser.get("/signin", headers=both).status_code == 403
