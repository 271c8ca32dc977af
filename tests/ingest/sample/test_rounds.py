"""Rounds of names, replayed card by card without any code of the generator."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import cast

import pandas as pd
import pytest

from ingest.sample import SMALL, SampleManifest, Situations, generate

Tables = dict[str, pd.DataFrame]
Round = tuple[str, int, list[tuple[str, str, str]], bool]
TURNS = {"answered", "helped", "passed", "other_way"}
NO_TURN = {"absent", "unavailable"}


def _rows(table: pd.DataFrame) -> list[dict[str, str]]:
    return cast("list[dict[str, str]]", table.to_dict("records"))


def _members(tables: Tables, class_id: str) -> list[tuple[str, str, str]]:
    """Pupils of a class with a card: key, first day, first day no longer in."""
    stays = tables["memberships"].query("role == 'student' and is_draw_eligible == 'true'")
    return [
        (stay["person_id"], stay["begin_on"], stay["end_on"] or "9999-12-31")
        for stay in _rows(stays)
        if stay["class_id"] == class_id
    ]


@pytest.fixture(scope="module")
def rounds(tables: Tables) -> list[Round]:
    """Every round of the demo year."""
    return list(_rounds(tables))


def _rounds(tables: Tables) -> Iterator[Round]:
    """Every round: class, number, its (day, pupil, outcome) in order, and whether it was closed."""
    draws = tables["participation_draws"].query("method == 'cycle'")
    by_class: dict[str, dict[int, list[tuple[str, str, str]]]] = defaultdict(dict)
    for row in _rows(draws):
        cards = by_class[row["class_id"]].setdefault(int(row["cycle_number"]), [])
        cards.append((row["drawn_on"], row["pupil_id"], row["outcome"]))
    for class_id, rounds in by_class.items():
        for number in rounds:
            yield class_id, number, rounds[number], number < max(rounds)


def _unfair(tables: Tables, rounds: Iterable[Round]) -> list[tuple[str, int, str, str]]:
    """Every breach: (class, round, pupil, what)."""
    found = []
    members = {one: _members(tables, one) for one in tables["classes"]["class_id"]}
    for class_id, number, cards, is_closed in rounds:
        first_on, last_on = cards[0][0], cards[-1][0]
        outcomes: dict[str, list[str]] = defaultdict(list)
        for _, pupil, outcome in cards:
            outcomes[pupil].append(outcome)
        for pupil, seen in outcomes.items():
            if sum(one in TURNS for one in seen) > 1:
                found.append((class_id, number, pupil, "two turns"))
            if not set(seen) <= TURNS | NO_TURN:
                found.append((class_id, number, pupil, "other outcome"))
        for pupil, begin_on, end_on in members[class_id]:
            is_in = begin_on <= first_on and last_on < end_on
            if is_closed and is_in and pupil not in outcomes:
                found.append((class_id, number, pupil, "never drawn"))
    return found


def test_every_pupil_with_a_card_comes_up_once_in_every_closed_round(
    year: SampleManifest, tables: Tables, rounds: list[Round]
) -> None:
    planted = {
        str((year.situation(name).facts or {})["pupil_id"])
        for name in ("lost_card", "newcomer_never_added")
    }
    assert sum(is_closed for *_, is_closed in rounds) > 1000
    assert {pupil for _, _, pupil, _ in _unfair(tables, rounds)} == planted


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_rounds_are_fair_in_other_schools_without_situations(
    tmp_path: Path, read_tables: Callable[[SampleManifest], Tables], seed: int
) -> None:
    plain = generate(tmp_path, seed=seed, size=SMALL, situations=Situations.none())
    tables = read_tables(plain)
    assert _unfair(tables, _rounds(tables)) == []


def test_rounds_are_numbered_from_one_without_a_jump_and_do_not_run_side_by_side(
    tables: Tables,
) -> None:
    draws = tables["participation_draws"].query("method == 'cycle'")
    for _, own in draws.groupby("class_id"):
        numbers = own["cycle_number"].astype(int).tolist()
        steps = {later - earlier for earlier, later in pairwise(numbers)}
        assert numbers[0] == 1
        assert steps == {0, 1}


def test_a_child_who_was_absent_is_the_first_to_be_asked_on_the_next_day_of_rounds(
    rounds: list[Round],
) -> None:
    """Of those who are back that day: nobody who was not waiting is asked before them."""
    checked = 0
    for class_id, number, cards, _ in rounds:
        days = list(dict.fromkeys(day for day, _, _ in cards))
        for day, next_day in pairwise(days):
            waiting = {p for d, p, o in cards if d <= day and o in NO_TURN}
            waiting -= {p for d, p, o in cards if d <= day and o in TURNS}
            asked = [p for d, p, o in cards if d == next_day and o in TURNS]
            back = [p for p in asked if p in waiting]
            assert set(asked[: len(back)]) == set(back), (class_id, number, next_day)
            checked += len(back)
    assert checked > 200


def test_the_order_of_a_round_is_shuffled_anew(rounds: list[Round]) -> None:
    """Place in one round says nothing about place in the next (rank correlation near nothing)."""
    first: list[int] = []
    second: list[int] = []
    before: dict[str, dict[str, int]] = {}
    for class_id, _, cards, is_closed in rounds:
        place = {pupil: at for at, (_, pupil, _) in reversed(list(enumerate(cards)))}
        if is_closed and class_id in before:
            last = before[class_id]
            first += [last[pupil] for pupil in place if pupil in last]
            second += [at for pupil, at in place.items() if pupil in last]
        before[class_id] = place
    assert len(first) > 10000
    assert abs(pd.Series(first).corr(pd.Series(second), method="spearman")) < 0.05


def test_draws_are_numbered_through_the_day_in_order_of_time(tables: Tables) -> None:
    draws = tables["participation_draws"]
    days = draws.groupby(["class_id", "drawn_on"])
    assert (draws["sequence_number"].astype(int) == days.cumcount() + 1).all()
    before = days["drawn_at_local"].shift(1)
    assert (before.isna() | (before < draws["drawn_at_local"])).all()


def test_every_other_way_of_asking_occurs_and_choral_names_nobody(tables: Tables) -> None:
    draws = tables["participation_draws"]
    assert set(draws["method"]) == {
        "cycle", "with_replacement", "queue", "volunteer", "teacher_choice", "choral", "partner",
    }  # fmt: skip
    is_choral = draws["method"] == "choral"
    assert (draws["pupil_id"] == "").equals(is_choral)
    assert (draws["cycle_number"] != "").equals(draws["method"] == "cycle")


def test_a_queue_asks_those_first_whose_last_turn_lies_longest_back(tables: Tables) -> None:
    rows = _rows(tables["participation_draws"].query("pupil_id != ''"))
    asked: dict[str, list[str]] = defaultdict(list)
    waits: list[tuple[str, int]] = []
    for row in rows:
        before = asked[row["class_id"]]
        if row["method"] == "queue":
            key = f"{row['class_id']} {row['drawn_on']}"
            back = [*before[::-1], row["pupil_id"]].index(row["pupil_id"])
            waits.append((key, back))
        if row["outcome"] in TURNS:
            before.append(row["pupil_id"])
    same_day = [(one, two) for (day, one), (other, two) in pairwise(waits) if day == other]
    assert len(same_day) > 100
    # With each turn taken everyone else's wait grows by one, so in a queue it never falls behind.
    assert all(two <= one + 1 for one, two in same_day)
