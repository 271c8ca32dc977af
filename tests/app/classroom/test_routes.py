"""Who gets the page, what is on it, and that nothing of another class is."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.classroom.files import STATIC, files
from tests.app.classroom.inside import Classrooms, classrooms, lesson, outcomes
from tests.app.invented_rooms import NAMES


def pack(browser: TestClient) -> dict[str, object]:
    answer = browser.get("/api/classroom/pack")
    assert answer.status_code == 200, answer.text
    found: dict[str, object] = answer.json()
    return found


def test_a_teacher_gets_her_class_by_name_and_no_other(made: Classrooms) -> None:
    told = pack(made.signed_in("maren"))
    pupils = told["pupils"]
    assert isinstance(pupils, list)
    assert sorted(one["name"] for one in pupils) == sorted(NAMES)
    assert all(one["pupil_id"].startswith("room-3-") for one in pupils)
    assert told["class"] == {"class_id": "room-3", "title": "Room 3", "size": 10}
    assert (told["role"], told["wait_seconds"], told["owner"]) == ("teacher", 3, "teacher:room-3")
    assert "room-5" not in json.dumps(told)


def test_children_without_a_given_name_are_called_by_a_number(made: Classrooms) -> None:
    pupils = pack(made.signed_in("wim"))["pupils"]
    assert isinstance(pupils, list)
    assert {one["name"] for one in pupils} == {f"Child {n}" for n in range(1, 11)}


def test_the_support_team_gets_classes_and_no_child(made: Classrooms) -> None:
    told = pack(made.signed_in("imke"))
    assert (told["class"], told["pupils"]) == (None, [])
    assert {"class_id": "room-3", "title": "Room 3"} in told["classes"]  # type: ignore[operator]
    assert not any(name in json.dumps(told) for name in NAMES)


def test_other_readers_are_told_kindly(made: Classrooms) -> None:
    browser = made.signed_in("anna")
    page, api = browser.get("/classroom"), browser.get("/api/classroom/pack")
    assert (page.status_code, api.status_code) == (403, 403)
    assert "teachers" in page.text
    assert "teachers" in api.json()["words"]


def test_without_a_visit_only_the_pairing_answers(made: Classrooms) -> None:
    browser = made.browser()
    assert browser.get("/classroom").headers["location"] == "/signin?next=%2Fclassroom"
    assert browser.get("/api/classroom/pack").status_code == 401
    assert browser.get("/classroom/files/app.js").status_code in (303, 401)
    assert browser.get("/classroom/pair").status_code == 200


def test_what_waits_is_in_the_pack_in_its_last_revision(made: Classrooms) -> None:
    browser, one = made.signed_in("maren"), lesson()
    again = {**one, "revision": 2, "cells": {**one["cells"], "minutes": "4"}}
    assert outcomes(browser, one, again) == ["kept", "kept"]
    [told] = pack(browser)["sent"]  # type: ignore[misc, attr-defined]
    assert (told["key"], told["revision"], told["cells"]["minutes"]) == (one["key"], 2, "4")
    assert pack(made.signed_in("wim"))["sent"] == []


def test_files_may_be_kept_and_are_asked_for_by_their_mark(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    for name, (content, kind) in files().items():
        answer = browser.get(f"/classroom/files/{name}")
        assert (answer.status_code, answer.headers["content-type"]) == (200, kind)
        assert answer.content == content
        assert answer.headers["cache-control"] == "no-cache"
    mark = answer.headers["etag"]
    again = browser.get("/classroom/files/app.js", headers={"if-none-match": mark})
    assert (again.status_code, again.content) == (304, b"")
    assert browser.get("/classroom/files/shell.html").status_code == 404
    assert browser.get("/classroom/files/..%2Froutes.py").status_code == 400


def test_the_worker_knows_every_file_and_may_answer_for_the_page(made: Classrooms) -> None:
    answer = made.signed_in("maren").get("/classroom/worker.js")
    assert answer.headers["service-worker-allowed"] == "/classroom"
    assert "{{" not in answer.text
    found = re.search(r"const FILES = (\[.*\]);", answer.text)
    assert found
    assert json.loads(found[1]) == list(files())


def test_the_shell_says_nothing_about_anybody_and_runs_nothing_inline(made: Classrooms) -> None:
    one, other = (made.signed_in(name).get("/classroom") for name in ("maren", "imke"))
    assert one.text == other.text
    assert "default-src 'self'" in one.headers["content-security-policy"]
    assert not re.search(r"<script(?![^>]*src)|<style|\son\w+=|style=", one.text)


SCRIPTS = sorted(STATIC.glob("*.js"))


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_a_script_stays_small_and_writes_no_html(path: Path) -> None:
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= 300
    assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(", text)
    for name in re.findall(r'from "\./([\w.-]+)"', text):
        assert name in files(), f"{path.name} asks for {name}"


def test_a_school_without_a_build_says_so(tmp_path: Path) -> None:
    made = classrooms(tmp_path)
    browser = made.signed_in("maren")
    assert browser.get("/classroom").status_code == 200
    answer = browser.get("/api/classroom/pack")
    assert answer.status_code == 503
    assert "Nothing is built yet" in answer.json()["words"]


def test_in_the_invented_school_without_a_sign_in_the_view_is_chosen(
    school: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(school))
    monkeypatch.setenv("ROUNDELAY_READER", "principal")
    from tests.app.door.inside import Clock

    browser = Classrooms(school, None, Clock()).browser()
    assert browser.get("/classroom").status_code == 403
    assert browser.get("/classroom?view_as=teacher:room-3").headers["location"] == "/classroom"
    assert browser.get("/classroom").status_code == 200
    assert pack(browser)["owner"] == "teacher:room-3"


def test_in_a_real_school_nobody_chooses_who_she_is(
    real_school: Path, made: Classrooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(real_school))
    monkeypatch.setenv("ROUNDELAY_READER", "teacher:room-5")
    alone = Classrooms(real_school, None, made.clock).browser()
    signed = made.signed_in("maren")
    for browser, own in ((alone, "teacher:room-5"), (signed, "teacher:room-3")):
        browser.get("/classroom?view_as=teacher:room-3")
        browser.cookies.set("roundelay-view-as", "teacher:room-5" if own[-1] == "3" else "support")
        assert pack(browser)["owner"] == own
