"""What a device sends lands once, for the class and the person of the visit, or is told why not."""

from __future__ import annotations

import errno
from pathlib import Path
from uuid import uuid4

import pytest

from app import durable
from app.capture.keep import read
from app.capture.packed import rows_in
from tests.app.classroom.inside import Classrooms, lesson, look, outcomes, post, sent


def test_a_lesson_lands_as_one_file_of_the_own_class(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    me = browser.get("/api/classroom/pack").json()["self"]
    one = lesson(by=me, cells={"class_id": "room-5", "entered_by": "st-999"})
    assert outcomes(browser, one) == ["kept"]
    assert made.inbox == [f"routine_lessons-{one['key']}.csv"]
    landed = read(made.root / "inbox" / made.inbox[0])
    assert landed is not None
    assert (landed["class_id"], landed["entered_by"]) == ("room-3", "st-102")
    assert landed["lesson_id"] == one["key"]


def test_a_record_that_a_colleague_left_on_the_device_names_nobody(made: Classrooms) -> None:
    one = lesson(by="0123456789abcdef")
    assert outcomes(made.signed_in("maren"), one) == ["kept"]
    landed = read(made.root / "inbox" / made.inbox[0])
    assert landed is not None
    assert landed["entered_by"] == ""


def test_the_same_again_is_known_and_other_content_is_refused(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    one = lesson()
    other = {**one, "cells": {**one["cells"], "minutes": "12"}}
    assert outcomes(browser, one, one) == ["kept", "known"]
    [refused] = sent(browser, other)
    assert (refused["outcome"], refused["reasons"][0]["rule"]) == ("refused", "changed_elsewhere")
    assert len(made.inbox) == 1


def test_what_the_door_has_taken_up_is_known_too(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    one = lesson()
    assert outcomes(browser, one) == ["kept"]
    waiting = made.root / "inbox" / made.inbox[0]
    waiting.rename(made.root / "received" / f"0123456789ab-{waiting.name}")
    assert outcomes(browser, one) == ["known"]
    assert made.inbox == []


def test_a_revision_is_a_file_of_its_own_and_an_older_one_comes_too_late(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    first = lesson()
    third = {**first, "revision": 3, "cells": {**first["cells"], "voided": "true"}}
    second = {**first, "revision": 2, "cells": {**first["cells"], "minutes": "7"}}
    assert outcomes(browser, first, third, second) == ["kept", "kept", "known"]
    names = [f"routine_lessons-{first['key']}{end}.csv" for end in ("", "_03")]
    assert made.inbox == names == sorted(names)
    assert (read(made.root / "inbox" / names[1]) or {})["voided"] == "true"
    assert "voided" not in (read(made.root / "inbox" / names[0]) or {})


def test_a_look_and_its_rows_are_one_file(made: Classrooms) -> None:
    browser = made.signed_in("imke")
    me = browser.get("/api/classroom/pack").json()["self"]
    one = look(by=me, cells={"class_id": "room-5", "observer_id": "st-1"})
    assert outcomes(browser, one) == ["kept"]
    file = made.root / "inbox" / f"observation_sessions-{one['key']}.zip"
    assert made.inbox == [file.name]
    [session] = rows_in(file, "observation_sessions") or []
    assert (session["observer_id"], session["class_id"]) == ("st-900", "room-5")
    rows = rows_in(file, "observation_rows") or []
    assert [(row["observation_id"], row["row_number"]) for row in rows] == [
        (one["key"], "1"), (one["key"], "2"),
    ]  # fmt: skip
    assert outcomes(browser, one) == ["known"]


def test_rows_that_are_gone_from_a_look_are_withdrawn(made: Classrooms) -> None:
    browser = made.signed_in("imke")
    me = browser.get("/api/classroom/pack").json()["self"]
    one = look(by=me, cells={"class_id": "room-5"})
    fewer = {**one, "revision": 2, "rows": one["rows"][:1]}
    away = {**one, "revision": 3, "rows": None, "cells": {**one["cells"], "voided": "true"}}
    back = {**one, "revision": 4, "rows": one["rows"][1:]}
    told = outcomes(browser, one, fewer, away, away, back)
    assert told == ["kept", "kept", "kept", "known", "kept"]
    files = [made.root / "inbox" / name for name in made.inbox]
    assert [path.suffix for path in files] == [".zip", ".zip", ".csv", ".zip"]
    rows = [
        [(row["row_number"], row.get("voided", "")) for row in found]
        for path in files
        if (found := rows_in(path, "observation_rows"))
    ]
    assert rows == [
        [("1", ""), ("2", "")], [("1", ""), ("2", "true")], [("2", ""), ("1", "true")],
    ]  # fmt: skip


def test_a_look_needs_a_person_and_is_never_a_colleagues(made: Classrooms) -> None:
    nobody = made.signed_in("okke")
    me = nobody.get("/api/classroom/pack").json()["self"]
    [answer] = sent(nobody, look(by=me, cells={"class_id": "room-3"}))
    assert [one["rule"] for one in answer["reasons"]] == ["no_person"]
    [answer] = sent(made.signed_in("imke"), look(by=me, cells={"class_id": "room-3"}))
    assert [one["rule"] for one in answer["reasons"]] == ["not_yours"]
    assert made.inbox == []


@pytest.mark.parametrize("feed", ["routine_lessons", "participation_draws", "family_practice"])
def test_the_support_team_only_looks(made: Classrooms, feed: str) -> None:
    [answer] = sent(made.signed_in("imke"), lesson(feed=feed))
    assert answer["reasons"][0]["rule"] == "not_yours"


def test_no_reader_writes_what_is_not_for_the_classroom(made: Classrooms) -> None:
    for feed in ("offer_decisions", "people", "../people", 7):
        [answer] = sent(made.signed_in("maren"), lesson(feed=feed))
        assert answer["outcome"] == "refused"
    assert made.inbox == []


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"key": "../../etc/passwd"}, "not_a_uuid"),
        ({"key": 7}, "not_a_record"),
        ({"revision": 0}, "too_large"),
        ({"revision": 100}, "too_large"),
        ({"revision": True}, "not_a_record"),
        ({"rows": [{}]}, "unknown_column"),
        ({"rows": 3}, "not_a_record"),
        ({"cells": {"minutes": 10}}, "not_a_record"),
        ({"cells": {"minutes": "ten"}}, "not_number"),
        ({"cells": {"routine_id": "juggling"}}, "unknown_reference"),
        ({"cells": {"note": "=1+1"}}, "formula_in_cell"),
        ({"cells": {"mood": "fine"}}, "unknown_column"),
    ],
)
def test_a_record_that_is_not_right_is_told_why(
    made: Classrooms, changes: dict[str, object], rule: str
) -> None:
    good = lesson()
    [bad, kept] = sent(made.signed_in("maren"), lesson(**changes), good)
    assert rule in [one["rule"] for one in bad["reasons"]]
    assert all(one["words"] and "{" not in one["words"] for one in bad["reasons"])
    assert kept["outcome"] == "kept"
    assert made.inbox == [f"routine_lessons-{good['key']}.csv"]


def test_practice_at_home_lands_under_the_key_of_its_envelope(made: Classrooms) -> None:
    cells = {
        "routine_id": "voice", "week_first_on": "2026-05-11", "families_asked": "20",
        "families_reported": "13",
    }  # fmt: skip
    record = {"key": str(uuid4()), "revision": 1, "feed": "family_practice", "cells": cells}
    assert outcomes(made.signed_in("maren"), record, record) == ["kept", "known"]
    assert made.inbox == [f"family_practice-{record['key']}.csv"]


def test_a_full_disk_stops_kindly_and_keeps_nothing(
    made: Classrooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    browser, one = made.signed_in("maren"), lesson()

    def full(part: Path, content: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(durable, "write", full)
        [answer] = sent(browser, one)
    assert answer["outcome"] == "stopped"
    assert "saved here" in answer["reasons"][0]["words"]
    assert made.inbox == []
    assert outcomes(browser, one) == ["kept"]


@pytest.mark.parametrize(
    ("body", "status"),
    [([], 422), ({"records": 3}, 422), ({"records": [3]}, 422), ({"records": [{}] * 51}, 413),
     ({"records": [{"cells": "x" * 270_000}]}, 413)],
)  # fmt: skip
def test_what_is_no_list_of_records_is_not_read(
    made: Classrooms, body: object, status: int
) -> None:
    answer = post(made.signed_in("maren"), "records", body)
    assert answer.status_code == status
    assert answer.json()["words"]


def test_a_form_of_another_site_is_not_read(made: Classrooms) -> None:
    browser = made.signed_in("maren")
    assert post(browser, "records", {}, **{"content-type": "text/plain"}).status_code == 415
    assert post(browser, "records", {}, origin="https://elsewhere.example").status_code == 403
