"""Visits: who looked at which routine in which room, when, alone or in pairs."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from ingest.sample.clock import local_time, moment
from ingest.sample.coaching import Cycle
from ingest.sample.options import stream
from ingest.sample.routines import live_version
from ingest.sample.situations import (
    DIP_FIRST_ON,
    DIP_LAST_ON,
    DIP_ROUTINE,
    LOW_VOICE_ROUTINE,
    Cast,
)
from ingest.sample.world import World

_FIRST_VISIT_ON = date(2025, 9, 15)
_TRAINING_VISITS, _PAIRED = 8, 5  # one visit in five is watched by two
# how often each routine is looked at, in rounds
_ROUND = (
    "settle-to-listen",
    "line-up",
    "voice-to-fit",
    "fair-turns",
    "settle-to-listen",
    "tidy-finish",
    "line-up",
    "voice-to-fit",
    "arrival",
    "fair-turns",
    "morning-greeting-plan",
)
# minutes watched and seconds between looks
_LENGTHS = ((10, 15), (12, 20), (15, 30), (20, 30))
# what the class was doing, with the voice level that suits it
_VOICED = (("partner_talk", 1), ("small_groups", 2), ("whole_class", 3))
_ACTIVITY = {
    "settle-to-listen": "whole_class",
    "fair-turns": "whole_class",
    "line-up": "transition",
    "tidy-finish": "transition",
    "arrival": "arrival",
}


@dataclass(frozen=True)
class Visit:
    """One visit by one or two observers; `start` in minutes after midnight."""

    room: int
    day: int
    start: int
    minutes: int
    interval_seconds: int
    routine_id: str
    purpose: str
    activity: str
    voice_level: int | None
    observers: tuple[int, ...]
    keys: tuple[str, ...] = ()
    pair_id: str | None = None


@dataclass(frozen=True)
class _Wish:
    """A visit before a time and observers are found for it."""

    room: int
    day: int
    routine_id: str
    purpose: str


def make_visits(world: World, cast: Cast, cycles: tuple[Cycle, ...]) -> list[Visit]:
    """Find a time and observers for every wished visit; nobody is in two places at once."""
    rng = stream(world.seed, "visits")
    wishes = list(_training(world, cast, rng))
    for room in range(len(world.rooms)):
        wishes.extend(_wishes(world, cast, cycles, room, rng))
    alone = [number for number, wish in enumerate(wishes) if wish.room != cast.thin_class]
    paired = set(rng.permutation(alone)[: len(alone) // _PAIRED].tolist())
    busy: set[tuple[int, int, int]] = set()
    visits = [
        visit
        for number, wish in enumerate(wishes)
        if (visit := _place(world, wish, number in paired, busy, rng)) is not None
    ]
    return _number(sorted(visits, key=lambda one: (one.day, one.start, one.room)))


def visit_keys(visits: list[Visit]) -> dict[tuple[int, int], str]:
    """The first observer's key of each coaching visit, by room and day."""
    return {(v.room, v.day): v.keys[0] for v in visits if v.purpose == "coaching"}


def session_records(world: World, visits: list[Visit]) -> list[tuple[object, ...]]:
    """The observation_sessions feed: one row for each observer of each visit."""
    rng = stream(world.seed, "visit sessions")
    return [row for visit in visits for row in _sessions(world, visit, rng)]


def _training(world: World, cast: Cast, rng: np.random.Generator) -> Iterator[_Wish]:
    """Practice for the observers in the second week; kept out of every score."""
    days = [day for day in range(5, 10) if world.calendar.in_session[:, day].any()]
    rooms = [
        place
        for place, room in enumerate(world.rooms)
        if room.session_pattern == "full_day" and place != cast.thin_class
    ]
    pairs = [(room, day) for room in rooms for day in days]
    for pick in rng.permutation(len(pairs))[:_TRAINING_VISITS].tolist():
        room, day = pairs[pick]
        yield _Wish(room, day, "settle-to-listen", "training")


def _wishes(
    world: World, cast: Cast, cycles: tuple[Cycle, ...], room: int, rng: np.random.Generator
) -> Iterator[_Wish]:
    """The visits to one room: coaching, what a planted situation needs, then in rounds."""
    size = world.size
    if room == cast.thin_class:
        for day in _spread(world.calendar.open_days(room, size.recent_on, size.as_of_on), 2, rng):
            yield _Wish(room, day, "settle-to-listen", "routine")
        return
    wishes = [
        _Wish(room, day, one.routine_id, "coaching")
        for one in cycles
        if one.room == room
        for day in one.visit_days
    ]
    wishes += _needed(world, cast, room, rng)
    taken = {wish.day for wish in wishes}
    days = world.calendar.open_days(room, _FIRST_VISIT_ON, size.as_of_on)
    free = [day for day in days if day not in taken]
    shift = int(rng.integers(len(_ROUND)))
    for number, day in enumerate(_spread(free, max(0, size.visits_per_room - len(wishes)), rng)):
        wishes.append(_Wish(room, day, _ROUND[(number + shift) % len(_ROUND)], "routine"))
    yield from wishes


def _needed(world: World, cast: Cast, room: int, rng: np.random.Generator) -> list[_Wish]:
    """Visits that make sure a planted situation is seen on enough days."""
    open_days, size = world.calendar.open_days, world.size
    if room in cast.dip_rooms:
        before = open_days(room, date(2025, 11, 10), date(2025, 12, 18))
        during = open_days(room, DIP_FIRST_ON, DIP_LAST_ON)
        days = _spread(before, 5, rng) + _spread(during, 6, rng)
        return [_Wish(room, day, DIP_ROUTINE, "routine") for day in days]
    if room == cast.low_voice_match:
        days = _spread(open_days(room, size.recent_on, size.as_of_on), 6, rng)
        return [_Wish(room, day, LOW_VOICE_ROUTINE, "routine") for day in days]
    return []


def _spread(days: list[int], count: int, rng: np.random.Generator) -> list[int]:
    """`count` of these days, one from each of equal stretches."""
    edges = np.linspace(0, len(days), min(count, len(days)) + 1).astype(int).tolist()
    return [days[int(rng.integers(low, high))] for low, high in pairwise(edges)]


def _place(
    world: World,
    wish: _Wish,
    is_paired: bool,
    busy: set[tuple[int, int, int]],
    rng: np.random.Generator,
) -> Visit | None:
    """A half hour in which the needed observers are free; None when the day is full."""
    room = world.rooms[wish.room]
    minutes, interval = _LENGTHS[int(rng.integers(len(_LENGTHS)))]
    starts = [s for s in range(0, 1440, 30) if room.opens_at < s <= room.closes_at - 30]
    if wish.routine_id == "arrival":
        minutes, interval, starts = 10, 30, [room.opens_at]
    needed = 2 if is_paired or wish.purpose == "training" else 1
    order = _observer_order(world, wish, rng)
    for start in rng.permutation(starts).tolist():
        free = [one for one in order if (one, wish.day, start // 30) not in busy]
        must_lead = wish.purpose == "coaching" and (not free or free[0] != order[0])
        if len(free) < needed or must_lead:
            continue
        busy.update((one, wish.day, start // 30) for one in free[:needed])
        activity, level = _activity(wish, world.day(wish.day), rng)
        purpose = "agreement" if needed == 2 and wish.purpose == "routine" else wish.purpose
        watched = (wish.room, wish.day, start, minutes, interval, wish.routine_id)
        return Visit(*watched, purpose, activity, level, tuple(free[:needed]))
    return None


def _observer_order(world: World, wish: _Wish, rng: np.random.Generator) -> list[int]:
    """Who is asked first: the coach for coaching, otherwise anybody by chance."""
    coach, leaders = world.people.staff_with("coach"), world.people.staff_with("leader")
    mixed: list[int] = rng.permutation([*coach, *leaders]).tolist()
    if wish.purpose != "coaching":
        return mixed
    return coach + [one for one in mixed if one not in coach]


def _activity(wish: _Wish, day: date, rng: np.random.Generator) -> tuple[str, int | None]:
    """What the class was doing, and the voice level expected for it."""
    if wish.routine_id == LOW_VOICE_ROUTINE:
        return _VOICED[int(rng.integers(len(_VOICED)))]
    level = live_version(wish.routine_id, day).voice_level
    return _ACTIVITY.get(wish.routine_id, "small_groups"), level


def _number(visits: list[Visit]) -> list[Visit]:
    """Give keys in order of time; two observers of one visit share a pair key."""
    numbered: list[Visit] = []
    count = 0
    for place, visit in enumerate(visits, start=1):
        keys = tuple(f"obs-{count + one:05d}" for one in range(1, len(visit.observers) + 1))
        count += len(keys)
        pair_id = f"pair-{place:04d}" if len(keys) == 2 else None
        numbered.append(Visit(**{**visit.__dict__, "keys": keys, "pair_id": pair_id}))
    return numbered


def _sessions(world: World, visit: Visit, rng: np.random.Generator) -> Iterator[tuple[object, ...]]:
    """The session rows of one visit; both observers of a pair write the same about the visit."""
    on = world.day(visit.day)
    routine = live_version(visit.routine_id, on)
    instruction = visit.minutes - int(rng.integers(0, 3))
    role = _taught_by_role(world, visit, rng)
    feedback = _feedback(world, visit, rng)
    for key, observer in zip(visit.keys, visit.observers, strict=True):
        yield (
            key,
            world.rooms[visit.room].room_id,
            world.people.staff_ids[observer],
            visit.pair_id,
            on,
            local_time(visit.start * 60)[:5],
            visit.minutes,
            instruction,
            routine.setting,
            visit.activity,
            visit.routine_id,
            visit.voice_level,
            visit.interval_seconds,
            world.present_count(visit.room, visit.day),
            role,
            visit.purpose,
            routine.version,
            feedback,
        )


def _taught_by_role(world: World, visit: Visit, rng: np.random.Generator) -> str:
    if world.has_substitute[visit.room, visit.day]:
        return "substitute"
    is_second = world.rooms[visit.room].is_co_taught and rng.random() < 0.35
    return "co_teacher" if is_second else "teacher"


def _feedback(world: World, visit: Visit, rng: np.random.Generator) -> str | None:
    """When the teacher heard about it: mostly within two days in session, never after the as-of."""
    wait = int(rng.choice(4, p=(0.35, 0.3, 0.15, 0.2)))
    later = np.flatnonzero(world.calendar.in_session[visit.room, visit.day :])
    if visit.purpose == "training" or wait == 3 or len(later) <= wait:
        return None
    seconds = int(rng.integers(15 * 3600 + 600, 16 * 3600 + 1800))
    return moment(world.day(visit.day + int(later[wait])), seconds)
