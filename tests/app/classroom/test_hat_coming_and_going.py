"""Children and devices that come and go, draws that are taken back, other ways of asking."""

from __future__ import annotations

from app.classroom.hat_exchange import end
from app.classroom.hat_values import LATELY_SECONDS
from tests.app.classroom.hat_device import ALL, DAY, TEN, Classroom, Told, two_who_share


def test_newcomers_join_the_running_round_and_leavers_leave_it(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.draw_all("pu-1")
    del room.children["pu-9"]
    room.children["pu-new"] = True
    told = one.contact()
    assert told["share"] == sorted({*ALL, "pu-new"} - {"pu-1", "pu-9"})
    assert (told["had"], len(told["eligible"])) == (1, 10)


def test_a_newcomer_goes_to_the_device_that_may_begin_the_next_round_alone(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    room.children["pu-new"] = True
    assert two.contact()["share"] == []
    assert "pu-new" in one.contact()["share"]


def test_a_device_that_leaves_puts_its_names_back_and_may_come_again(room: Classroom) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    one.tell("leaves")
    told = one.contact(wants=False)
    assert (told["state"], told["share"], told["lying"]) == ("left", [], 10)
    assert two.contact()["share"] == ALL
    assert (one.contact()["state"], one.last["share"]) == ("open", [])


def test_the_names_of_a_lost_device_come_back_and_what_it_drew_still_counts(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.draw_all("pu-1", "pu-2")
    assert end(room.store, "room-3", "one") is True
    assert two.contact()["share"] == ALL
    assert one.contact()["state"] == "ended"
    assert one.untold == []
    told = two.contact()
    assert told["had"] == 2
    assert told["share"] == sorted(set(ALL) - {"pu-1", "pu-2"})
    assert one.contact()["share"] == []


def test_nobody_ends_a_device_that_the_class_does_not_know(room: Classroom) -> None:
    assert end(room.store, "room-3", "one") is False
    Told(room, "one").contact()
    assert end(room.store, "room-4", "one") is False
    assert end(room.store, "room-3", "other") is False


def test_a_draw_taken_back_puts_the_name_where_it_was(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.draw_all("pu-1")
    one.contact()
    one.tell("undone", "pu-1", draw_id="one-1")
    told = one.contact()
    assert (told["share"], told["had"], told["sequence"]) == (ALL, 0, 0)


def test_a_draw_taken_back_in_a_later_round_lets_the_child_come_first(room: Classroom) -> None:
    one = Told(room, "one")
    one.contact()
    one.draw_all(*ALL)
    one.tell("round", round=5)
    one.contact()
    one.tell("undone", "pu-9", draw_id="one-10", round=4)
    told = one.contact()
    assert (told["round"], told["first"], told["had"]) == (5, ["pu-9"], 0)


def test_taking_an_absence_back_leaves_the_turn_that_the_child_had_elsewhere(
    room: Classroom,
) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.contact()
    one.tell("drawn", "pu-0", "absent")
    one.contact()
    two.tell("here", "pu-0")
    two.contact()
    two.tell("drawn", "pu-0")
    two.contact()
    one.tell("undone", "pu-0", "absent", draw_id="one-1")
    told = one.contact()
    assert (told["had"], "pu-0" in told["share"]) == (1, False)


def test_an_old_word_that_a_child_is_away_takes_no_name_from_the_device_that_holds_it(
    room: Classroom,
) -> None:
    """Found in 10,000 rounds: the child had come and was with `one`; `two` did not know that yet.

    `two` asks for the next round and, as far as it knows, the child is away: it writes that down.
    """
    one, two = two_who_share(room)
    one.tell("drawn", "pu-9", "absent")
    one.draw_all(*ALL[5:9])
    one.contact()
    two.draw_all(*ALL[:5])
    told = two.contact()
    assert (told["away"], told["over"]) == ({"pu-9": DAY}, True)
    one.tell("here", "pu-9")
    assert one.contact()["share"] == ["pu-9"]
    two.tell("drawn", "pu-9", "absent")
    two.tell("here", "pu-9")
    told = two.contact(begins=5)
    assert (told["round"], told["share"], told["elsewhere"]) == (4, [], 1)
    one.draw_all("pu-9")
    assert one.contact()["had"] == 10
    assert two.contact(begins=5)["round"] == 5


def test_an_old_word_that_a_child_is_away_does_not_end_the_round_for_one_who_has_come(
    room: Classroom,
) -> None:
    one, two = two_who_share(room)
    one.tell("drawn", "pu-9", "absent")
    one.draw_all(*ALL[5:9])
    one.contact()
    two.draw_all(*ALL[:5])
    assert two.contact()["over"] is True
    one.tell("here", "pu-9")
    one.tell("leaves")
    assert one.contact(wants=False)["lying"] == 1
    two.tell("drawn", "pu-9", "absent")
    told = two.contact(begins=5)
    assert (told["round"], told["share"], told["away"]) == (4, ["pu-9"], {})


def test_another_way_of_asking_is_no_turn_of_the_round_but_counts_in_the_day(
    room: Classroom,
) -> None:
    one = Told(room, "one")
    one.contact()
    one.tell("drawn", "pu-1", method="volunteer", sequence=1, clock=99)
    told = one.contact()
    assert (told["share"], told["had"]) == (ALL, 0)
    assert (told["sequence"], told["clock"]) == (1, 99)


def test_a_device_that_was_quiet_for_long_is_not_waited_with(room: Classroom) -> None:
    one, two = Told(room, "one"), Told(room, "two")
    two.contact()
    two.tell("leaves")
    two.contact(wants=False)
    two.contact()
    two.tell("leaves")
    two.contact(wants=False)
    one.contact()
    assert one.last["share"] == ALL
    room.now += LATELY_SECONDS + 1
    assert one.contact()["others"] == 0


def test_a_class_without_children_has_no_rounds(room: Classroom) -> None:
    room.children = {}
    one = Told(room, "one")
    one.contact()
    assert one.contact(begins=6)["round"] == 5
    assert one.last["share"] == []


def test_one_class_knows_nothing_of_another(room: Classroom) -> None:
    Told(room, "one").contact()
    other = Classroom(room.store, dict(TEN), class_id="room-4")
    told = Told(other, "one").contact()
    assert (told["share"], told["holders"]) == (ALL, [])
