"""Signing in through a real OpenID Connect provider (the npm package oidc-provider)."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import httpx
import pytest
from authlib.integrations.starlette_client import StarletteOAuth2App
from starlette.testclient import TestClient

from app.door import Rules
from app.door.provider import guest_of_claims
from app.door.rules import Provider
from tests.app.door.inside import HOST, School, school

ROOT = Path(__file__).resolve().parents[3]
PACKAGES = ROOT / "var" / "provider"
BACK = f"http://{HOST}/signin/back"
ROLES = {"school-principal": "principal", "school-teachers": "teacher"}


@pytest.fixture(scope="module")
def issuer() -> Iterator[str]:
    """The provider, as a program of its own; ended when its input ends."""
    if shutil.which("node") is None or not (PACKAGES / "node_modules" / ".locked").is_file():
        pytest.skip("not run: Node or the provider's packages are not here (sh .ci/provider)")
    source = Path(__file__).parent / "provider" / "provider.js"
    shutil.copy(source, PACKAGES / "provider.js")
    with subprocess.Popen(
        ["node", "provider.js", BACK],
        cwd=PACKAGES,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "NODE_OPTIONS": ""},
        text=True,
    ) as child:
        assert child.stdout is not None
        first = next(line for line in child.stdout if line.startswith("http"))
        yield first.strip()
        child.kill()


def rules_of(issuer: str, **changes: object) -> Rules:
    told = {
        "issuer": issuer,
        "client_id": "roundelay",
        "client_secret": "a secret for tests only",
        "scope": "openid profile school",
        "name_claim": "name",
        "role_claim": "roles",
        "class_claim": "class_id",
        "roles": ROLES,
    }
    return Rules(mode="oidc", provider=Provider(**{**told, **changes}))  # type: ignore[arg-type]


@pytest.fixture
def made(tmp_path: Path, issuer: str) -> School:
    return school(tmp_path, rules_of(issuer))


def sent(browser: TestClient, wanted: str = "/grades") -> str:
    """Begin at our page; where the provider is told to be asked."""
    page = browser.get(f"/signin?next={wanted}")
    link = re.search(r'class="button" href="([^"]+)"', page.text)
    assert link
    return str(browser.get(link[1]).headers["location"])


def at_the_provider(address: str, name: str) -> str:
    """Do what a person does there, in a browser of its own; the address that leads back."""
    with httpx.Client(follow_redirects=False, trust_env=False) as there:
        answer = there.get(address)
        for _ in range(12):
            if answer.is_redirect:
                where = str(answer.url.join(answer.headers["location"]))
                if where.startswith(BACK):
                    return where
                answer = there.get(where)
                continue
            action = re.search(r'action="([^"]+)"', answer.text)
            prompt = re.search(r'name="prompt" value="(\w+)"', answer.text)
            assert action, answer.text
            assert prompt, answer.text
            fields = {"prompt": prompt[1], "login": name, "password": "any"}
            answer = there.post(str(answer.url.join(action[1])), data=fields)
    raise AssertionError("the provider led nowhere")


@pytest.mark.parametrize(
    ("name", "reader", "shown"),
    [("anna", "principal", "Anna Berg"), ("maren", "teacher:room-3", "Maren Oyelaran")],
)
def test_the_providers_words_become_a_reader(
    made: School, name: str, reader: str, shown: str
) -> None:
    browser = made.browser()
    answer = browser.get(at_the_provider(sent(browser), name))
    assert (answer.status_code, answer.headers["location"]) == (303, "/grades")
    assert browser.get("/grades").json()["reader"] == reader
    assert shown in browser.get("/signout").text


def test_a_provider_may_say_who_somebody_is_in_the_people_file() -> None:
    rules = rules_of("https://id.example.org", person_claim="school.staff_key").provider
    assert rules is not None
    claims = {"sub": "imke", "roles": ["school-principal"], "school": {"staff_key": "st-102"}}
    assert guest_of_claims(rules, claims).person_id == "st-102"
    assert guest_of_claims(rules, {**claims, "school": {}}).person_id == ""


@pytest.mark.parametrize(
    ("name", "told"), [("guest", "have no role here yet"), ("lost", "which class is yours")]
)
def test_somebody_without_a_role_or_a_class_is_told_so_and_not_let_in(
    made: School, name: str, told: str
) -> None:
    browser = made.browser()
    answer = browser.get(at_the_provider(sent(browser), name))
    assert answer.status_code == 403
    assert told in answer.text
    assert browser.get("/grades").status_code == 303


def test_the_request_carries_state_nonce_and_a_challenge(made: School) -> None:
    asked = parse_qs(urlsplit(sent(made.browser())).query)
    assert asked["code_challenge_method"] == ["S256"]
    assert len(asked["code_challenge"][0]) == 43
    assert all(len(asked[name][0]) >= 20 for name in ("state", "nonce"))
    assert asked["redirect_uri"] == [BACK]
    assert "a secret for tests only" not in str(asked)


def test_an_answer_opens_one_visit_once_and_in_the_browser_that_asked(made: School) -> None:
    browser, other = made.browser(), made.browser()
    back = at_the_provider(sent(browser), "anna")
    assert other.get(back).status_code == 403
    sent(other)
    assert other.get(back).status_code == 502
    assert other.get("/grades").status_code == 303
    errand = browser.cookies["roundelay-errand"]
    assert browser.get(back).status_code == 303
    browser.cookies.set("roundelay-errand", errand, domain="127.0.0.1")
    assert browser.get(back).status_code == 403


@pytest.mark.parametrize("part", ["state", "code"])
def test_an_answer_that_was_changed_on_the_way_is_refused(made: School, part: str) -> None:
    browser = made.browser()
    back = at_the_provider(sent(browser), "anna")
    changed = re.sub(rf"([?&]{part}=)[^&]*", r"\1changed", back)
    answer = browser.get(changed)
    assert answer.status_code == 502
    assert "did not answer as it should" in answer.text
    assert browser.get("/grades").status_code == 303


def test_an_answer_that_took_too_long_is_refused(made: School) -> None:
    browser = made.browser()
    back = at_the_provider(sent(browser), "anna")
    made.clock.at += 601
    assert browser.get(back).status_code == 403


def test_a_wrong_nonce_is_refused(made: School) -> None:
    browser = made.browser()
    back = at_the_provider(sent(browser), "anna")
    made.door.store.rows(
        'update errand set content = replace(content, \'"nonce": "\', \'"nonce": "x\')'
    )
    assert browser.get(back).status_code == 502
    assert browser.get("/grades").status_code == 303


def test_an_answer_about_somebody_else_is_refused(
    made: School, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def of_maren(self: object, **told: object) -> dict[str, object]:
        return {"sub": "maren", "roles": ["school-principal"]}

    browser = made.browser()
    back = at_the_provider(sent(browser), "anna")
    monkeypatch.setattr(StarletteOAuth2App, "userinfo", of_maren)
    answer = browser.get(back)
    assert answer.status_code == 403
    assert "answered for somebody else" in answer.text


def test_a_provider_that_goes_by_another_name_is_refused(tmp_path: Path, issuer: str) -> None:
    browser = school(tmp_path, rules_of(f"{issuer}/")).browser()
    assert browser.get(at_the_provider(sent(browser), "anna")).status_code == 403
    assert browser.get("/grades").status_code == 303


def test_no_password_opens_anything_where_a_provider_is_asked(made: School) -> None:
    browser = made.browser()
    kind = {"content-type": "application/x-www-form-urlencoded"}
    assert browser.post("/signin", content=b"name=anna", headers=kind).status_code == 404


def test_a_provider_that_does_not_answer_is_said_kindly(tmp_path: Path) -> None:
    made = school(tmp_path, rules_of("http://127.0.0.1:9"))
    answer = made.browser().get("/signin/provider")
    assert answer.status_code == 502
    assert "Please try again" in answer.text
