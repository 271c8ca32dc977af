"""Signing in and out with a name and a password, and when a visit ends."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from httpx import Response
from starlette.testclient import TestClient

from app import door
from app.door import tokens
from app.door.sessions import Guest
from ingest import accounts
from tests.app.door.inside import (
    HOST,
    WORDS,
    School,
    hash_of,
    hidden,
    school,
    sign_in,
    with_rules,
)


def test_the_right_password_opens_the_pages_of_that_reader(made: School) -> None:
    for name, reader in (("anna", "principal"), ("maren", "teacher:room-3")):
        browser = made.browser()
        answer = sign_in(browser, name, wanted="/grades?term=spring")
        assert (answer.status_code, answer.headers["location"]) == (303, "/grades?term=spring")
        assert browser.get("/grades").json()["reader"] == reader


@pytest.mark.parametrize("typed", [" Anna ", "ANNA", "ａｎｎａ"])
def test_a_name_may_be_typed_in_any_case_and_width(made: School, typed: str) -> None:
    assert sign_in(made.browser(), typed, WORDS["anna"]).status_code == 303


@pytest.mark.parametrize(
    "name", ["anna", "nobody", "closed", "unlocked", "' or 1=1 --", "a" * 5000]
)
def test_every_refusal_says_the_same(made: School, name: str) -> None:
    at = made.clock.moment
    stored = hash_of("seven quiet lanterns")
    accounts.add(made.workspace, "closed", "", "support", None, stored, at)
    accounts.close(made.workspace, "closed", at)
    accounts.add(made.workspace, "unlocked", "", "support", None, None, at)
    answer = sign_in(made.browser(), name, "seven quiet lanterns")
    assert answer.status_code == 401
    assert "This name and this password do not belong together." in answer.text
    assert "closed" not in re.sub(r'value="[^"]*"', "", answer.text)
    assert not _visit_cookie(answer)


def test_an_unknown_name_costs_the_same_check(
    made: School, monkeypatch: pytest.MonkeyPatch
) -> None:
    checked: list[str] = []
    hasher = type("Counting", (), {"verify": lambda self, stored, given: checked.append(stored)})
    nobody = "app.door.passwords._HASHER"
    monkeypatch.setattr(nobody, hasher())
    sign_in(made.browser(), "anna", "wrong wrong wrong")
    sign_in(made.browser(), "nobody", "wrong wrong wrong")
    kinds = [stored.rsplit("$", 2)[0] for stored in checked]
    assert kinds == ["$argon2id$v=19$m=65536,t=3,p=4"] * 2


@pytest.mark.parametrize(
    ("name", "password", "field", "told"),
    [
        ("", "x", "name", "Type your name first."),
        ("  ", "", "name", "Type your name first."),
        ("anna", "", "password", "Type your password too."),
    ],
)
def test_an_empty_field_is_told_beside_itself(
    made: School, name: str, password: str, field: str, told: str
) -> None:
    answer = sign_in(made.browser(), name, password)
    assert answer.status_code == 422
    assert told in answer.text
    tied = re.findall(r'<input id="(\w+)"[^>]* aria-describedby="trouble"', answer.text)
    assert tied == [field]


def test_what_was_typed_stays_apart_from_the_password(made: School) -> None:
    answer = sign_in(made.browser(), '"><b>anna', "my secret words")
    assert 'value="&quot;&gt;&lt;b&gt;anna"' in answer.text
    assert "my secret words" not in answer.text


def test_the_cookie_is_out_of_reach_of_scripts_and_only_its_hash_is_kept(made: School) -> None:
    answer = sign_in(made.browser())
    cookie = _visit_cookie(answer)
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert "Secure" not in cookie
    token = cookie.split("=")[1].split(";")[0]
    assert len(token) >= 43
    kept = made.door.store.rows("select token_sha256 from session")
    assert kept == [(tokens.digest(token),)]
    made.door.store.rows("pragma wal_checkpoint(truncate)")
    assert token.encode() not in (made.workspace.root / "sessions.sqlite").read_bytes()


def test_by_https_the_cookie_is_secure_and_bound_to_its_host(made: School) -> None:
    secure = with_rules(made, public_address="https://school.example", trusted_proxy="127.0.0.1")
    browser = secure.browser(host="school.example", scheme="https")
    page = browser.get("/signin")
    fields = {"form": hidden(page.text), "name": "anna", "password": WORDS["anna"]}
    answer = browser.post("/signin", data=fields, headers={"origin": "https://school.example"})
    assert answer.status_code == 303
    cookie = _visit_cookie(answer)
    assert cookie.startswith("__Host-roundelay=")
    assert "; Secure" in cookie
    assert "Domain" not in cookie
    assert "Path=/;" in cookie
    assert answer.headers["strict-transport-security"]


def test_both_files_are_their_owners_alone(made: School) -> None:
    for name in ("accounts.sqlite", "sessions.sqlite"):
        assert (made.workspace.root / name).stat().st_mode & 0o077 == 0


def test_an_hour_without_a_click_ends_a_visit_and_clicks_prolong_it(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    for _ in range(11):
        made.clock.at += 3500
        assert browser.get("/grades").status_code == 200
    made.clock.at += 3601
    assert browser.get("/grades").status_code == 303


def test_after_twelve_hours_a_visit_ends_in_any_case(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    for _ in range(24):
        assert browser.get("/grades").status_code == 200
        made.clock.at += 1800
    assert browser.get("/grades").status_code == 303
    assert made.door.store.rows("select count(*) from session") == [(0,)]


def test_signing_out_ends_this_visit_and_no_other(made: School) -> None:
    here, there = made.browser(), made.browser()
    sign_in(here)
    sign_in(there)
    answer = _leave(here, "here")
    assert answer.headers["location"] == "/signin?left=1"
    assert here.get("/grades").status_code == 303
    assert there.get("/grades").status_code == 200


def test_signing_out_everywhere_ends_all_visits_of_this_person(made: School) -> None:
    here, there, other = made.browser(), made.browser(), made.browser()
    sign_in(here)
    sign_in(there)
    sign_in(other, "maren")
    _leave(here, "everywhere")
    assert there.get("/grades").status_code == 303
    assert other.get("/grades").status_code == 200


def test_a_change_of_an_account_ends_its_visits_with_the_next_click(made: School) -> None:
    changes = {
        "closed": lambda at: accounts.close(made.workspace, "maren", at),
        "role": lambda at: accounts.set_role(made.workspace, "maren", "support", None, at),
        "password": lambda at: accounts.set_password(
            made.workspace, "maren", hash_of(WORDS["maren"]), at
        ),
        "signed out": lambda at: accounts.end_visits(made.workspace, "maren", at),
        "everyone": lambda at: accounts.end_visits(made.workspace, None, at),
    }
    for what in ("signed out", "everyone", "password", "role", "closed"):
        browser = made.browser()
        assert sign_in(browser, "maren").status_code == 303, what
        assert browser.get("/my_class").status_code == 200, what
        made.clock.at += 1
        changes[what](made.clock.moment)
        made.clock.at += 1
        assert browser.get("/my_class").status_code == 303, what
    assert sign_in(made.browser(), "maren").status_code == 401


def test_a_visit_knows_who_somebody_is_in_the_people_file(made: School) -> None:
    accounts.set_person(made.workspace, "maren", "st-102", made.clock.moment)
    token = made.door.let_in(Guest("oidc:there ida", 0, "Ida", "support", "oidc", "st-103"))
    by_provider = replace(made.door, rules=replace(made.door.rules, mode="oidc"))
    name = made.door.rules.cookie
    ida = by_provider.who({name: token})
    assert ida is not None
    assert (ida.reader, ida.person_id) == ("support", "st-103")
    browser = made.browser()
    sign_in(browser, "maren")
    maren = made.door.who({name: browser.cookies[name]})
    assert maren is not None
    assert maren.person_id == "st-102"


def test_visits_that_began_before_people_had_keys_go_on(tmp_path: Path) -> None:
    made = school(tmp_path)
    browser = made.browser()
    sign_in(browser)
    made.door.store.rows("alter table session drop column person_id")
    made.door.store.close()
    again = door.open_door(tmp_path, made.door.rules, made.clock)
    anna = again.who({made.door.rules.cookie: browser.cookies[made.door.rules.cookie]})
    assert anna is not None
    assert (anna.reader, anna.person_id) == ("principal", "")


def test_a_closed_name_given_to_another_person_opens_no_old_visit(made: School) -> None:
    browser = made.browser()
    sign_in(browser, "maren")
    accounts.close(made.workspace, "maren", made.clock.moment)
    stored = hash_of(WORDS["maren"])
    accounts.add(made.workspace, "maren", "", "support", None, stored, made.clock.moment)
    assert browser.get("/meeting").status_code == 303


def test_who_is_signed_in_already_is_led_on(made: School) -> None:
    browser = made.browser()
    sign_in(browser)
    assert browser.get("/signin?next=/grades").headers["location"] == "/grades"


def _leave(browser: TestClient, where: str) -> Response:
    page = browser.get("/signout")
    fields = {"form": hidden(page.text), "where": where}
    return browser.post("/signout", data=fields, headers={"origin": f"http://{HOST}"})


def _visit_cookie(answer: Response) -> str:
    lines = answer.headers.get_list("set-cookie")
    found = [line for line in lines if re.match(r"(__Host-)?roundelay=[^\"]", line)]
    return found[0] if found else ""
