"""The address of the hat: for the class of the visit alone, and nothing but messages."""

from __future__ import annotations

import sqlite3
from typing import Any

import pytest

from app.classroom.hat_store import HatStore
from tests.app.classroom.inside import Classrooms, post
from tests.app.classroom.test_pairing import paired

DAY = "2026-05-15"


def message(**changes: Any) -> dict[str, Any]:
    own = {"device": "tablet-1", "message": 1, "day": DAY, "news": [], "wants": True}
    return {**own, "alone": False, "begins": 0, **changes}


def test_a_teacher_gets_the_children_of_her_class_who_still_wait(made: Classrooms) -> None:
    told = post(made.signed_in("maren"), "hat", message()).json()
    assert told["round"] == 4
    assert told["share"] == [f"room-3-{number}" for number in (0, 1, 2, 3)]
    assert len(told["eligible"]) == 10
    assert told["had"] == 6


def test_no_word_of_a_device_reaches_another_class(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    told = post(teacher, "hat", {**message(), "class_id": "room-5"}).json()
    assert {name.rsplit("-", 1)[0] for name in told["eligible"]} == {"room-3"}


def test_the_support_team_draws_no_names(made: Classrooms) -> None:
    answer = post(made.signed_in("imke"), "hat", message())
    assert (answer.status_code, "share" in answer.json()) == (403, False)


def test_nobody_draws_without_a_visit(made: Classrooms) -> None:
    assert post(made.browser(), "hat", message()).status_code == 401


def test_a_class_tablet_draws_and_shares_with_its_teacher(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    tablet = paired(made, teacher)
    assert len(post(tablet, "hat", message()).json()["share"]) == 4
    told = post(teacher, "hat", message(device="phone-1")).json()
    assert (told["share"], told["elsewhere"]) == ([], 4)


def test_a_lost_tablet_is_ended_by_the_teacher_and_not_by_a_tablet(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    tablet = paired(made, teacher)
    post(tablet, "hat", message())
    other = post(tablet, "hat", {"ends": "tablet-1"})
    assert other.status_code == 403
    assert post(teacher, "hat", {"ends": "tablet-2"}).status_code == 404
    assert post(teacher, "hat", {"ends": "tablet-1"}).json() == {"ended": "tablet-1"}
    assert len(post(teacher, "hat", message(device="phone-1")).json()["share"]) == 4


@pytest.mark.parametrize(
    "changes",
    [
        {"device": ""},
        {"device": "a" * 65},
        {"device": "<script>"},
        {"device": 7},
        {"message": 0},
        {"message": True},
        {"message": 1.5},
        {"message": 2**60},
        {"day": "15 May"},
        {"day": None},
        {"wants": "yes"},
        {"alone": 1},
        {"begins": -1},
        {"news": {}},
        {"news": [7]},
        {"news": [{"number": 1, "what": "eaten"}]},
        {"news": [{"number": 0, "what": "leaves"}]},
        {"news": [{"number": 1, "what": "back", "round": 4, "pupil_id": ["room-3-1"]}]},
        {"news": [{"number": 1, "what": "drawn", "round": 4, "pupil_id": "room-3-1"}]},
        {"news": [{"number": 1, "what": "leaves"}] * 2001},
    ],
    ids=str,
)
def test_what_is_no_message_is_not_read(made: Classrooms, changes: dict[str, Any]) -> None:
    teacher = made.signed_in("maren")
    assert post(teacher, "hat", message(**changes)).status_code in (413, 422)
    told = post(teacher, "hat", message(device="tablet-9")).json()
    assert told["others"] == 0, "the message left something behind"


def test_a_name_of_no_child_of_the_class_changes_nothing(made: Classrooms) -> None:
    teacher = made.signed_in("maren")
    post(teacher, "hat", message())
    drawn = {
        "number": 1, "what": "drawn", "round": 4, "pupil_id": "room-5-0", "draw_id": "d1",
        "method": "cycle", "outcome": "answered", "day": DAY, "sequence": 1, "clock": 5,
    }  # fmt: skip
    told = post(teacher, "hat", message(message=2, news=[drawn])).json()
    assert (told["heard"], told["had"], len(told["share"])) == (1, 6, 4)


def test_a_disk_that_refuses_is_said_and_nothing_has_changed(
    made: Classrooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    teacher = made.signed_in("maren")
    post(teacher, "hat", message())

    def full(*_: object) -> None:
        raise sqlite3.OperationalError("database or disk is full")

    with monkeypatch.context() as broken:
        broken.setattr(HatStore, "change", full)
        answer = post(teacher, "hat", message(message=2, news=[{"number": 1, "what": "leaves"}]))
    assert answer.status_code == 507
    assert len(post(teacher, "hat", message(message=3)).json()["share"]) == 4


def test_the_file_of_the_hats_is_the_servers_alone_and_knows_no_name(made: Classrooms) -> None:
    post(made.signed_in("maren"), "hat", message())
    file = made.root / "classroom.sqlite"
    assert file.stat().st_mode & 0o077 == 0
    everything = b"".join(one.read_bytes() for one in made.root.glob("classroom.sqlite*"))
    assert b"room-3-1" in everything
    assert b"Imani" not in everything
