"""The invented school's own way in, a path before every address, and what starts at all."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from app import entrance
from app.door import Rules
from ingest import accounts
from tests.app.door.inside import AT, HOST, WORDS, School, hidden, school, with_rules


@pytest.fixture
def demo(tmp_path: Path) -> School:
    made = school(tmp_path, Rules(is_demo=True, school_name="Quillbrook (invented)"))
    for name, role in (("head", "principal"), ("office", "steward")):
        accounts.add(made.workspace, name, f"{name.title()} (invented)", role, None, None, AT)
    return made


def test_an_invented_school_offers_its_people_with_one_button_each(demo: School) -> None:
    browser = demo.browser()
    page = browser.get("/signin").text
    assert "invented school only" in page
    assert page.count("<button") == 2
    fields = {"form": hidden(page), "name": "office", "next": "/came_in"}
    answer = browser.post("/signin/demo", data=fields)
    assert (answer.status_code, answer.headers["location"]) == (303, "/came_in")
    assert browser.get("/came_in").json()["reader"] == "steward"


def test_the_button_needs_its_form_and_opens_no_account_with_a_password(demo: School) -> None:
    browser = demo.browser()
    form = hidden(browser.get("/signin").text)
    for fields in ({"name": "head"}, {"name": "head", "form": "0"}, {"name": "anna", "form": form},
                   {"name": "nobody", "form": form}):  # fmt: skip
        assert browser.post("/signin/demo", data=fields).status_code == 403
    assert browser.get("/grades").status_code == 303


def test_a_real_school_has_no_such_button(demo: School) -> None:
    real = with_rules(demo, is_demo=False)
    browser = real.browser()
    form = hidden(browser.get("/signin").text)
    answer = browser.post("/signin/demo", data={"name": "head", "form": form})
    assert answer.status_code == 401
    assert browser.get("/grades").status_code == 303


def test_a_visit_of_the_invented_school_is_none_in_a_real_one(demo: School) -> None:
    browser = demo.browser()
    form = hidden(browser.get("/signin").text)
    browser.post("/signin/demo", data={"form": form, "name": "head"})
    cookies = {"roundelay": browser.cookies["roundelay"]}
    assert demo.door.who(cookies) is not None
    assert with_rules(demo, is_demo=False).door.who(cookies) is None


def test_an_invented_school_is_not_passed_on_to_others(demo: School) -> None:
    for name in ("x-forwarded-for", "forwarded", "x-real-ip", "via"):
        assert demo.browser().get("/signin", headers={name: "x"}).status_code == 403


def test_everything_works_below_a_path_of_its_own(tmp_path: Path) -> None:
    made = school(tmp_path, Rules(public_address=f"http://{HOST}/roundelay"))
    browser = made.browser()
    assert browser.get("/roundelay/grades").headers["location"] == (
        "/roundelay/signin?next=%2Fgrades"
    )
    for path in ("/signin", "/grades", "/roundelayx/signin", "/up"):
        assert browser.get(path).status_code == 404, path
    page = browser.get("/roundelay/signin?next=/grades")
    fields = {"form": hidden(page.text), "name": "anna", "password": WORDS["anna"]}
    answer = browser.post("/roundelay/signin", data={**fields, "next": "/grades"})
    assert answer.headers["location"] == "/roundelay/grades"
    assert browser.get("/roundelay/grades").json()["reader"] == "principal"
    assert browser.get("/roundelay/door/door.css").status_code == 200
    assert browser.get("/roundelay/up").text == "ok"


def test_accounts_that_were_put_in_place_of_others_count_at_once(made: School) -> None:
    assert made.door.accounts.named("anna") is not None
    (made.workspace.root / "accounts.sqlite").unlink()
    assert made.door.accounts.named("anna") is None
    accounts.add(made.workspace, "imke", "", "support", None, None, AT)
    assert made.door.accounts.named("anna") is None
    assert made.door.accounts.named("imke") is not None


def test_the_door_cannot_write_who_may_sign_in(made: School) -> None:
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        made.door.accounts._rows("update account set role = 'principal'", ())


def test_a_server_that_believes_forwarded_addresses_does_not_start_with_a_sign_in(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(tmp_path))
    monkeypatch.setenv("ROUNDELAY_SIGN_IN", "{}")
    monkeypatch.delenv("FORWARDED_ALLOW_IPS", raising=False)
    with pytest.raises(RuntimeError, match="roundelay open"):
        entrance.own_door()
    monkeypatch.setenv("ROUNDELAY_SIGN_IN", "")
    assert entrance.own_door() is None
