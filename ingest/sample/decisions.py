"""What the invented team decided at its meetings: one decision for each class and routine it took.

Nothing here looks at a figure: the team offers before coaching begins, closes after it has ended,
and now and then waits or is told that the teacher would rather not.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from ingest.sample.clock import moment
from ingest.sample.coaching import Cycle
from ingest.sample.options import FIRST_ON, stream
from ingest.sample.routines import TIER_ONE
from ingest.sample.school_year import term_of
from ingest.sample.situations import LOW_VOICE_ROUTINE, Cast
from ingest.sample.world import World

_BETWEEN, _SOON, _FOLLOW_UP = timedelta(days=14), timedelta(days=7), timedelta(days=28)
_AFTER_SCHOOL = 15 * 3600 + 20 * 60
_DECLINED = 3
_NOTES = {
    "offer": ("Starts with a look together", "A short booster each morning", "Coach has time"),
    "wait": ("Two more looks first", "After the new seating", "Once the lunch hour has settled"),
    "close": ("Goes on without us", "Holds in two lessons out of two", "The class keeps it up"),
    "decline": ("Would like to try alone first", "Not this month", "Busy with the play"),
}


@dataclass(frozen=True)
class Decided:
    """One decision of the invented team."""

    room: int
    routine_id: str
    decision: str
    day: date
    follow_up_on: date | None


def decision_records(
    world: World, cast: Cast, cycles: tuple[Cycle, ...]
) -> list[tuple[object, ...]]:
    """The offer_decisions feed in the order of the meetings."""
    rng = stream(world.seed, "decisions")
    meetings = _meetings(world)
    made = [
        *_around_coaching(world, cycles, meetings),
        *_about_voices(cast, meetings, world.calendar.days[-1]),
        *_about_a_thin_class(cast, meetings),
        *_declined(world, cast, cycles, meetings, rng),
    ]
    made.sort(key=lambda one: (one.day, one.room, one.routine_id))
    return [_record(world, number, one, rng) for number, one in enumerate(made, start=1)]


def _meetings(world: World) -> list[date]:
    """Every second week from the fourth on, on the next day on which a room was in."""
    last_on, found = world.calendar.days[-1], []
    day = FIRST_ON + timedelta(weeks=3, days=2)
    while day <= last_on:
        place = world.calendar.index_of(day)
        while place < len(world.calendar.days) and not world.calendar.in_session[:, place].any():
            place += 1
        if place < len(world.calendar.days):
            found.append(world.day(place))
        day += _BETWEEN
    return list(dict.fromkeys(found))


def _around_coaching(
    world: World, cycles: tuple[Cycle, ...], meetings: list[date]
) -> Iterator[Decided]:
    """Offered at the last meeting before the drawn start; closed at the first after the end."""
    for cycle in cycles:
        start_on = world.day(cycle.visit_days[cycle.start])
        offered_on = max((day for day in meetings if day <= start_on), default=start_on)
        yield Decided(cycle.room, cycle.routine_id, "offer", offered_on, offered_on + _FOLLOW_UP)
        ended_on = world.day(cycle.visit_days[-1])
        later = [day for day in meetings if day > ended_on + _BETWEEN]
        if cycle.is_closed and later:
            yield Decided(cycle.room, cycle.routine_id, "close", later[0], None)


def _about_voices(cast: Cast, meetings: list[date], last_on: date) -> Iterator[Decided]:
    """The team waited at its newest meeting a week ago or more: its day to come back has come."""
    ripe = [day for day in meetings if day + _SOON <= last_on]
    if cast.low_voice_match is not None and ripe:
        day = ripe[-1]
        yield Decided(cast.low_voice_match, LOW_VOICE_ROUTINE, "wait", day, day + _SOON)


def _about_a_thin_class(cast: Cast, meetings: list[date]) -> Iterator[Decided]:
    if cast.thin_class is not None and meetings:
        day = meetings[-1]
        yield Decided(cast.thin_class, TIER_ONE[0], "wait", day, day + _FOLLOW_UP)


def _declined(
    world: World,
    cast: Cast,
    cycles: tuple[Cycle, ...],
    meetings: list[date],
    rng: np.random.Generator,
) -> Iterator[Decided]:
    """In a few rooms with no part of their own the teacher would rather not; once quite lately."""
    apart = cast.judged_by_visits() | {cycle.room for cycle in cycles}
    rooms = [int(room) for room in rng.permutation(len(world.rooms)) if int(room) not in apart]
    for number, room in enumerate(rooms[:_DECLINED] if meetings else []):
        lately = meetings[-1] if number == 0 else meetings[int(rng.integers(len(meetings)))]
        yield Decided(room, str(rng.choice(TIER_ONE)), "decline", lately, None)


def _record(
    world: World, number: int, one: Decided, rng: np.random.Generator
) -> tuple[object, ...]:
    room_id = world.rooms[one.room].room_id
    return (
        f"dec-{number:04d}",
        room_id,
        one.routine_id,
        f"class:{room_id}:{one.routine_id}:{term_of(one.day)}",
        one.decision,
        one.day,
        one.follow_up_on,
        "support",
        str(rng.choice(_NOTES[one.decision])) if rng.random() < 0.6 else None,
        moment(one.day, _AFTER_SCHOOL + 60 * (number % 20)),
    )
