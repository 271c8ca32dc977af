"""Who holds which name, and when: the rules of the hat from the server's side."""

from __future__ import annotations

from tests.app.classroom.hat_device import ALL, TEN, Classroom, Told, two_who_share


def test_the_first_device_takes_every_name_and_may_begin_the_next_round_alone(
    room: Classroom,
) -> None:
    told = Told(room, "one").contact()
    assert (told["round"], told["share"], told["alone"]) == (4, ALL, True)
    assert (told["had"], told["others"], told["wanted"]) == (0, 0, False)


def test_a_class_goes_on_with_the_round_that_the_build_knows(room: Classroom) -> None:
    room.children = {name: name in ("pu-2", "pu-7") for name in TEN}
    told = Told(room, "one").contact()
    assert (told["round"], told["share"], told["had"]) == (4, ["pu-2", "pu-7"], 8)


def test_a_round_that_is_over_in_the_build_is_followed_by_the_next(room: Classroom) -> None:
    room.children = dict.fromkeys(TEN, False)
    told = Told(room, "one").contact()
    assert (told["round"], told["share"]) == (5, ALL)


def test_a_class_that_never_drew_begins_with_its_first_round(room: Classroom) -> None:
    room.round_number = 0
    assert Told(room, "one").contact()["round"] == 1


def test_a_second_device_gets_nothing_before_the_first_has_given_something_back(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    told = two.contact()
    assert (told["share"], told["elsewhere"], told["others"]) == ([], 10, 1)
    assert told["holders"] == [{"device": "one", "names": 10, "begins": True, "quiet_minutes": 0}]
    asked = one.contact()
    assert (asked["wanted"], asked["alone"], asked["share"]) == (True, False, ALL)
    for name in ALL[:5]:
        one.tell("back", name)
    told = one.contact()
    assert (told["share"], told["wanted"]) == (ALL[5:], False), "asked for no more than once"
    assert two.contact()["share"] == ALL[:5]
    assert one.contact()["wanted"] is False


def test_a_name_given_back_is_handed_out_once_however_often_the_word_comes(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.contact()
    one.tell("back", "pu-0")
    one.contact()
    late = one.sent
    assert two.contact()["share"] == ["pu-0"]
    two.tell("drawn", "pu-0")
    assert two.contact()["had"] == 1
    assert late is not None
    for _ in range(3):
        told = room.send(late)
    assert told["had"] == 1
    assert two.contact()["share"] == []
    assert one.contact()["share"] == ALL[1:]


def test_the_same_message_again_is_answered_and_changes_nothing(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.draw_all("pu-1", "pu-2")
    first = one.contact()
    assert [one.again() for _ in range(3)] == [first] * 3
    assert first["had"] == 2


def test_news_with_a_gap_before_it_waits_for_what_is_missing(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.draw_all("pu-1", "pu-2")
    missing = one.untold.pop(0)
    assert one.contact()["heard"] == 0
    one.untold = [missing, *one.untold]
    assert (one.contact()["heard"], one.last["had"]) == (2, 2)


def test_no_device_begins_a_round_while_another_may_begin_it_alone(room: Classroom) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    one.draw_all(*ALL)
    one.contact()
    told = two.contact(begins=5)
    assert (told["round"], told["share"], told["over"]) == (4, [], False)
    one.tell("round", round=5)
    told = one.contact()
    assert (told["round"], told["share"], told["wanted"]) == (5, ALL, True)


def test_a_round_begun_alone_is_taken_in_though_the_device_has_just_lost_that_right(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    one.draw_all(*ALL)
    one.tell("round", round=5)
    one.tell("drawn", "pu-3", round=5)
    two.contact()
    one.alone = False
    told = one.contact()
    assert (told["round"], told["had"]) == (5, 1)
    assert two.contact()["share"] == []


def test_a_device_that_may_not_begin_a_round_alone_cannot_say_that_it_did(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.contact()
    one.tell("back", "pu-0")
    one.contact()
    two.tell("round", round=5)
    assert two.contact()["round"] == 4


def test_the_next_round_waits_for_every_name_that_is_out(room: Classroom) -> None:
    one, two = two_who_share(room)
    one.draw_all(*ALL[5:])
    assert one.contact(begins=5)["round"] == 4
    two.draw_all(*ALL[:5])
    assert two.contact()["over"] is True
    told = two.contact(begins=5)
    assert (told["round"], len(told["share"])) == (5, 5)
    assert len(one.contact()["share"]) == 5
    assert sorted(one.last["share"] + two.last["share"]) == ALL


def test_a_pass_is_a_turn_and_later_is_none(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.tell("drawn", "pu-1", "passed")
    one.tell("drawn", "pu-2", "unavailable")
    told = one.contact()
    assert told["had"] == 1
    assert "pu-2" in told["share"]


def test_an_absent_child_does_not_hold_the_round_up_and_comes_first_when_there_again(
    room: Classroom,
) -> None:
    one = Told(room, "one")
    one.contact()
    one.tell("drawn", "pu-1", "absent", stays=True)
    one.draw_all(*[name for name in ALL if name != "pu-1"])
    told = one.contact()
    assert (told["over"], told["had"], told["first"]) == (True, 9, ["pu-1"])
    one.tell("round", round=5)
    told = one.contact(day="2026-05-18")
    assert (told["first"], told["had"], told["over"]) == (["pu-1"], 0, False)


def test_where_two_draw_the_name_of_an_absent_child_lies_in_the_hat_for_the_next_day(
    room: Classroom,
) -> None:
    _, two = two_who_share(room)
    two.tell("drawn", "pu-0", "absent")
    told = two.contact()
    assert "pu-0" not in told["share"]
    assert told["away"] == {"pu-0": "2026-05-15"}
    two.draw_all("pu-1", "pu-2", "pu-3", "pu-4")
    two.contact()
    told = two.contact(day="2026-05-18")
    assert (told["share"], told["first"]) == (["pu-0"], ["pu-0"])


def test_an_absent_child_who_comes_is_handed_out_on_the_word_of_any_device(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.contact()
    one.tell("drawn", "pu-0", "absent")
    one.contact()
    assert two.last["share"] == []
    two.tell("here", "pu-0")
    assert two.contact()["share"] == ["pu-0"]
