"""Draws: names drawn in rounds without replacement, and the other ways in which a child is asked.

A round is one true shuffle of the cards in the box. A child who is absent when the card comes up
gets no turn; the card waits on top and is the first to be asked on the child's next day (priority
return). Cards that still wait when the box is empty go on top of the next round.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from ingest.sample.clock import local_time, moment
from ingest.sample.options import stream
from ingest.sample.situations import Cast
from ingest.sample.world import World

_OTHER_WAYS = ("with_replacement", "volunteer", "teacher_choice", "choral", "partner", "queue")
_OTHER_CHANCES = (0.25, 0.3, 0.2, 0.15, 0.05, 0.05)
_ROUND_DAY = 0.86
_TURNS = ("answered", "helped", "passed", "other_way")
_CONTEXTS = ("whole_class", "story_time", "number_talk", "morning_meeting", "review")


@dataclass
class _Box:
    """The cards of one room in mid-round."""

    deck: list[int] = field(default_factory=list)
    waiting: list[int] = field(default_factory=list)
    seen: set[int] = field(default_factory=set)
    number: int = 0
    asked: list[int] = field(default_factory=list)

    def wait_of(self, pupil: int) -> int:
        """Turns taken in this room since the pupil's last; one never asked has waited longest."""
        return [*self.asked[::-1], pupil].index(pupil)


@dataclass(frozen=True)
class _Drawn:
    """One draw: `pupil` is None when all answered together."""

    pupil: int | None
    outcome: str
    method: str
    cycle_number: int | None

    @property
    def is_turn(self) -> bool:
        """Whether the pupil's turn came of it."""
        return self.outcome in _TURNS


def draw_records(world: World, cast: Cast) -> list[tuple[object, ...]]:
    """The participation_draws feed in order of day and room."""
    rng = stream(world.seed, "draws")
    rows: list[tuple[object, ...]] = []
    for room in range(len(world.rooms)):
        own = np.random.Generator(np.random.PCG64(rng.integers(2**63)))
        rows.extend(_room_rows(world, cast, room, own))
    rows.sort(key=lambda row: (str(row[1]), str(row[0]), row[3]))
    return [(f"drw-{number:07d}", *row) for number, row in enumerate(rows, start=1)]


def _room_rows(
    world: World, cast: Cast, room: int, rng: np.random.Generator
) -> Iterator[tuple[object, ...]]:
    box = _Box()
    pace = float(rng.normal(2.3, 0.5))  # the room's usual think time in seconds
    first = world.calendar.open_days(room, world.day(0), world.size.as_of_on)[3]
    for day in np.flatnonzero(world.calendar.in_session[room]).tolist():
        if day < first or rng.random() > world.size.draw_day_share:
            continue
        pool = _pool(world, cast, room, day)
        here = [pupil for pupil in pool if world.is_here[pupil, day]]
        if here:
            drawn = _day(box, pool, set(here), int(rng.integers(9, 24)), rng)
            box.asked += [one.pupil for one in drawn if one.pupil is not None and one.is_turn]
            yield from _rows_of_day(world, room, day, drawn, pace, rng)


def _pool(world: World, cast: Cast, room: int, day: int) -> list[int]:
    """Pupils with a card in the box on this day."""
    is_recent = world.day(day) >= world.size.recent_on
    return [
        pupil
        for pupil in world.enrolled(room, day)
        if world.people.may_be_drawn[pupil] and not (is_recent and pupil in cast.unseen_pupils)
    ]


def _day(
    box: _Box, pool: list[int], here: set[int], count: int, rng: np.random.Generator
) -> list[_Drawn]:
    """About `count` draws: in rounds on most days, in another way on the others."""
    if rng.random() < _ROUND_DAY:
        return list(_round_draws(box, pool, here, count, rng))
    method = str(rng.choice(_OTHER_WAYS, p=_OTHER_CHANCES))
    if method == "choral":
        return [_Drawn(None, "answered", method, None) for _ in range(max(2, count // 3))]
    present = sorted(here)
    weights = rng.gamma(0.8, size=len(present)) if method in ("volunteer", "teacher_choice") else 1
    chance = np.broadcast_to(weights, len(present)) / np.sum(np.broadcast_to(weights, len(present)))
    picks = rng.choice(present, size=count, p=chance).tolist()
    if method in ("queue", "partner"):
        picks = rng.permutation(present).tolist()
        if method == "queue":
            picks.sort(key=box.wait_of, reverse=True)
        picks = picks[:count]
    return [_Drawn(pupil, _turn(rng), method, None) for pupil in picks]


def _round_draws(
    box: _Box, pool: list[int], here: set[int], count: int, rng: np.random.Generator
) -> Iterator[_Drawn]:
    """Go on with the open round; open the next when every card has come up."""
    _bring_up_to_date(box, pool, rng)
    for pupil in [one for one in box.waiting if one in here]:
        box.waiting.remove(pupil)
        yield _Drawn(pupil, _turn(rng), "cycle", box.number)
        count -= 1
    while count > 0:
        if not box.deck:
            _open_round(box, pool, here, rng)
        pupil = box.deck.pop()
        box.seen.add(pupil)
        outcome = _turn(rng) if pupil in here else "absent"
        if pupil in here and rng.random() < 0.012:
            outcome = "unavailable"
        drawn = _Drawn(pupil, outcome, "cycle", box.number)
        if not drawn.is_turn:
            box.waiting.append(pupil)
        yield drawn
        count -= 1


def _bring_up_to_date(box: _Box, pool: list[int], rng: np.random.Generator) -> None:
    """Take out cards of pupils who left; put newcomers' cards anywhere into the open round."""
    members = set(pool)
    box.deck = [one for one in box.deck if one in members]
    box.waiting = [one for one in box.waiting if one in members]
    if box.number == 0:
        return
    for pupil in pool:
        if pupil not in box.seen and pupil not in box.deck:
            box.deck.insert(int(rng.integers(len(box.deck) + 1)), pupil)


def _open_round(box: _Box, pool: list[int], here: set[int], rng: np.random.Generator) -> None:
    """Shuffle all cards; those still waiting go on top (the end of the list is drawn first)."""
    waited = [one for one in box.waiting if one in here]
    others = [one for one in pool if one not in waited]
    box.deck = rng.permutation(others).tolist() + waited[::-1]
    box.waiting, box.seen = [], set()
    box.number += 1


def _turn(rng: np.random.Generator) -> str:
    return _TURNS[int(np.searchsorted((0.83, 0.91, 0.96), rng.random()))]


def _rows_of_day(
    world: World,
    room: int,
    day: int,
    drawn: list[_Drawn],
    pace: float,
    rng: np.random.Generator,
) -> Iterator[tuple[object, ...]]:
    """The rows of one room and day, numbered in order, a few seconds to a few minutes apart."""
    on, one = world.day(day), world.rooms[room]
    eligible = sum(
        world.people.may_be_drawn[pupil] and bool(world.is_here[pupil, day])
        for pupil in world.enrolled(room, day)
    )
    last = one.closes_at * 60 - 150 * len(drawn)
    second = int(rng.integers(one.opens_at * 60 + 900, last))
    gaps = rng.integers(12, 150, size=len(drawn)).tolist()
    growth = 1 + 0.04 * day / 20
    waits = np.clip(pace * growth * rng.lognormal(0, 0.35, size=len(drawn)), 0.3, 20).tolist()
    untimed = (rng.random(len(drawn)) < 0.1).tolist()
    context = str(rng.choice(_CONTEXTS))
    for number, draw in enumerate(drawn):
        second += gaps[number]
        yield (
            one.room_id,
            on,
            local_time(second),
            number + 1,
            draw.cycle_number,
            draw.method,
            None if draw.pupil is None else world.people.pupil_ids[draw.pupil],
            draw.outcome,
            round(waits[number], 1) if draw.is_turn and not untimed[number] else None,
            eligible,
            context,
            moment(on, second + 4),
        )
