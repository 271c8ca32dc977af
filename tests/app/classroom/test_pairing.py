"""A class tablet: one code, one day, one class, and gone on the teacher's word."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.classroom.devices import end_of_day, zone_of
from app.door.devices import ALPHABET, CODE_LETTERS
from ingest import accounts
from ingest.workspace import Workspace
from tests.app.classroom.inside import (
    Classrooms,
    lesson,
    look,
    outcomes,
    pair,
    post,
    sent,
)  # fmt: skip
from tests.app.door.inside import HOST, hidden


def code_of(teacher: TestClient) -> str:
    answer = post(teacher, "devices", {"make": True})
    assert answer.status_code == 200, answer.text
    return str(answer.json()["code"])


def paired(made: Classrooms, teacher: TestClient) -> TestClient:
    tablet = made.browser("127.0.0.9")
    answer = pair(tablet, code_of(teacher))
    assert (answer.status_code, answer.headers["location"]) == (303, "/classroom")
    return tablet


def owner(tablet: TestClient) -> str | int:
    answer = tablet.get("/api/classroom/pack")
    return answer.json()["owner"] if answer.status_code == 200 else answer.status_code


def test_a_code_is_short_plain_and_good_once(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    code = code_of(teacher)
    assert len(code) == CODE_LETTERS == 8
    assert set(code) <= set(ALPHABET)
    assert not set(ALPHABET) & set("01OIL2Z5S8BUAEU")
    assert pair(made.browser(), f" {code[:4].lower()}-{code[4:]} ").status_code == 303
    assert pair(made.browser(), code).status_code == 401


def test_a_code_is_good_for_ten_minutes(made: Classrooms) -> None:
    code = code_of(made.signed_in("maren"))
    made.clock.at += 601
    assert pair(made.browser(), code).status_code == 401


def test_a_tablet_records_for_its_class_and_reaches_nothing_else(made: Classrooms) -> None:
    tablet = paired(made, made.signed_in("maren"))
    assert owner(tablet) == "teacher:room-3"
    assert outcomes(tablet, lesson()) == ["kept"]
    for path in ("/", "/my_class", "/classroomy", "/signout"):
        assert tablet.get(path).headers["location"] == "/classroom", path
    for path in ("/media/x", "/static/x", "/api/other", "/api/classroomy"):
        assert tablet.get(path).status_code == 403, path
    assert tablet.post("/upload", headers={"origin": f"http://{HOST}"}).status_code == 403
    with pytest.raises(WebSocketDisconnect), tablet.websocket_connect("/_stcore/stream"):
        pass


def test_a_tablet_looks_round_for_the_teacher_who_lent_it(made: Classrooms) -> None:
    for name, outcome in (("maren", "kept"), ("wim", "refused")):
        tablet = paired(made, made.signed_in(name))
        me = tablet.get("/api/classroom/pack").json()["self"]
        [answer] = sent(tablet, look(by=me))
        assert answer["outcome"] == outcome


def test_a_tablet_lends_nothing_on(made: Classrooms) -> None:
    tablet = paired(made, made.signed_in("maren"))
    assert tablet.get("/api/classroom/devices").status_code == 403
    assert post(tablet, "devices", {"make": True}).status_code == 403
    assert tablet.get("/api/classroom/pack").json()["can_pair"] is False


def test_only_a_teacher_pairs_a_tablet(made: Classrooms) -> None:
    for name in ("anna", "imke"):
        assert post(made.signed_in(name), "devices", {"make": True}).status_code == 403


def test_the_teacher_sees_and_ends_it_and_it_bites_on_the_next_request(made: Classrooms) -> None:
    teacher, stranger = made.signed_in("maren"), made.signed_in("wim")
    tablet = paired(made, teacher)
    [device] = teacher.get("/api/classroom/devices").json()["devices"]
    assert device["words"] == "Paired at 08:00 by Maren, until 23:59 today"
    assert stranger.get("/api/classroom/devices").json()["devices"] == []
    post(stranger, "devices", {"end": device["device_id"]})
    assert owner(tablet) == "teacher:room-3"
    assert post(teacher, "devices", {"end": device["device_id"]}).json()["devices"] == []
    assert owner(tablet) == 401
    assert sent_status(tablet) == 401


def sent_status(tablet: TestClient) -> int:
    return int(post(tablet, "records", {"records": [lesson()]}).status_code)


def test_a_tablet_sleeps_over_lunch_and_is_over_in_the_evening(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    tablet = paired(made, teacher)
    made.clock.at += 5 * 3600
    assert owner(teacher) == 401
    made.signed_in("wim")
    assert owner(tablet) == "teacher:room-3"
    made.clock.at += 10 * 3600
    assert owner(tablet) == "teacher:room-3"
    made.clock.at += 3600
    assert owner(tablet) == 401


def test_a_tablet_goes_with_its_teacher(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    tablet, code = paired(made, teacher), code_of(teacher)
    accounts.close(Workspace(made.root), "maren", made.clock.moment)
    assert owner(tablet) == 401
    assert pair(made.browser(), code).status_code == 401


def test_signing_out_everywhere_ends_the_tablets_too(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    tablet, code = paired(made, teacher), code_of(teacher)
    page = teacher.get("/signout")
    fields = {"form": hidden(page.text), "where": "everywhere"}
    teacher.post("/signout", data=fields, headers={"origin": f"http://{HOST}"})
    assert owner(tablet) == 401
    assert pair(made.browser(), code).status_code == 401


def test_somebody_may_sign_in_on_a_tablet(made: Classrooms) -> None:
    tablet = paired(made, made.signed_in("maren"))
    page = tablet.get("/signin?next=/classroom")
    assert page.status_code == 200
    fields = {"form": hidden(page.text), "next": "/classroom", "name": "wim",
              "password": "turnip ladder window"}  # fmt: skip
    tablet.post("/signin", data=fields, headers={"origin": f"http://{HOST}"})
    assert owner(tablet) == "teacher:room-5"


def test_guessing_codes_soon_has_to_wait(made: Classrooms) -> None:
    code = code_of(made.signed_in("maren"))
    guesser = made.browser("10.1.1.1")
    statuses = [pair(guesser, "CDFGHJKM").status_code for _ in range(8)]
    assert statuses[0] == 401
    assert 429 in statuses
    assert pair(guesser, code).status_code == 429
    assert pair(made.browser("10.1.1.2"), code).status_code == 303


def test_a_form_that_was_not_made_for_this_browser_pairs_nothing(made: Classrooms) -> None:
    code = code_of(made.signed_in("maren"))
    own, other = made.browser(), made.browser()
    other.get("/classroom/pair")
    fields = {"form": hidden(own.get("/classroom/pair").text), "code": code}
    answer = other.post("/classroom/pair", data=fields, headers={"origin": f"http://{HOST}"})
    assert answer.status_code == 403
    assert pair(other, code).status_code == 303


def test_no_secret_of_a_code_or_a_tablet_is_written_down(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    code = code_of(teacher)
    tablet = made.browser()
    pair(tablet, code)
    token = tablet.cookies["roundelay"]
    for file in made.root.glob("sessions.sqlite*"):
        assert code.encode() not in file.read_bytes()
        assert token.encode() not in file.read_bytes()


@pytest.mark.parametrize(
    ("now", "end"),
    [("2026-05-15T06:00", "2026-05-16T03:59"), ("2026-05-16T03:58", "2026-05-16T03:59"),
     ("2026-05-16T03:59", "2026-05-17T03:59"), ("2026-03-08T06:30", "2026-03-09T03:59")],
)  # fmt: skip
def test_the_day_ends_by_the_school_s_clock(now: str, end: str) -> None:
    zone = zone_of("America/New_York")
    found = end_of_day(datetime.fromisoformat(f"{now}:00+00:00").timestamp(), zone)
    assert datetime.fromtimestamp(found, UTC).isoformat()[:16] == end


def test_without_a_sign_in_no_tablet_is_paired(
    made: Classrooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("ROUNDELAY_READER", "teacher:room-3")
    browser = replace(made, door=None).browser()
    assert post(browser, "devices", {"make": True}).status_code == 403
    assert browser.get("/classroom/pair").text == "dashboard"
