"""Coaching cycles: a start drawn by lot before any visit, looks on both sides, and a close."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from ingest.sample.options import stream
from ingest.sample.routines import TIER_ONE
from ingest.sample.situations import COACHED_FIRST_ON, COACHED_ROUTINE, Cast
from ingest.sample.truth import coached_gain
from ingest.sample.world import World

_VISITS, _SPACING = 14, 3
_OPTIONS = range(5, 10)  # visits before the start: at least five on each side
# not arrival: one coach cannot stand at two doors at the one time of day at which it happens
_COACHED = tuple(one for one in TIER_ONE if one != "arrival")
_FADE_FROM = 11  # the last visits, when help fades out


@dataclass(frozen=True)
class Cycle:
    """One coaching cycle; days are places in the calendar, in order.

    `visit_days[k]` for k in 5..9 are the possible starts; `start` says which k was drawn.
    """

    cycle_id: str
    room: int
    routine_id: str
    plan_day: int
    visit_days: tuple[int, ...]
    options: tuple[int, ...]
    start: int
    gain: float
    is_closed: bool

    def phase(self, visit: int) -> str:
        """The phase in which this visit falls."""
        if visit < self.start:
            return "baseline"
        return "fade" if visit >= _FADE_FROM else "coaching"


def make_cycles(world: World, cast: Cast) -> tuple[Cycle, ...]:
    """The planted cycles, then cycles in rooms that asked for one; the first of these is open."""
    rng = stream(world.seed, "coaching")
    planted = [room for room in (cast.coached_improved, cast.coached_unmoved) if room is not None]
    others = [
        int(room)
        for room in rng.permutation(len(world.rooms))
        if int(room) not in cast.judged_by_visits()
        and world.rooms[room].session_pattern == "full_day"
    ]
    cycles = [
        _cycle(world, cast, room, COACHED_ROUTINE, world.calendar.index_of(COACHED_FIRST_ON), rng)
        for room in planted
    ]
    for number, room in enumerate(others[: max(0, world.size.coaching_cycles - len(planted))]):
        routine_id = str(rng.choice(_COACHED))
        days = np.flatnonzero(world.calendar.in_session[room])
        late = len(days) - _SPACING * _VISITS + 5
        first = int(days[late if number == 0 else int(rng.integers(22, max(23, late - 8)))])
        cycles.append(_cycle(world, cast, room, routine_id, first, rng))
    found = [one for one in cycles if one is not None]
    return tuple(sorted(found, key=lambda one: one.cycle_id))


def coached_from(
    world: World, cycles: tuple[Cycle, ...]
) -> dict[tuple[int, str], tuple[date, float]]:
    """The first coached day and the true gain, by room and routine."""
    return {
        (one.room, one.routine_id): (world.day(one.options[one.start - _OPTIONS.start]), one.gain)
        for one in cycles
    }


def coaching_records(
    world: World, cycles: tuple[Cycle, ...], visit_keys: Mapping[tuple[int, int], str]
) -> list[tuple[object, ...]]:
    """The coaching_events feed; `visit_keys` gives the visit by room and day."""
    rows = [row for one in cycles for row in _events(world, one, visit_keys)]
    rows.sort(key=lambda row: (str(row[4]), str(row[0])))
    return [(f"cev-{number:04d}", *row) for number, row in enumerate(rows, start=1)]


def _cycle(
    world: World, cast: Cast, room: int, routine_id: str, first: int, rng: np.random.Generator
) -> Cycle | None:
    """Lay the cycle out on the room's days; None when the start would lie after the as-of date."""
    days = [int(d) for d in np.flatnonzero(world.calendar.in_session[room]) if d >= first]
    visits = tuple(
        days[2 + _SPACING * number]
        for number in range(_VISITS)
        if 2 + _SPACING * number < len(days)
    )
    start = int(rng.choice(list(_OPTIONS)))
    gain = coached_gain(cast, room, rng)
    if len(visits) <= _OPTIONS.stop:
        return None
    return Cycle(
        cycle_id=f"cyc-{world.rooms[room].room_id[-2:]}",
        room=room,
        routine_id=routine_id,
        plan_day=days[0],
        visit_days=visits,
        options=tuple(visits[number] for number in _OPTIONS),
        start=start,
        gain=gain,
        is_closed=len(days) > 2 + _SPACING * _VISITS,
    )


def _events(
    world: World, cycle: Cycle, visit_keys: Mapping[tuple[int, int], str]
) -> Iterator[tuple[object, ...]]:
    """One cycle's rows: the plan with its lot, visits, help in the coaching phase, the close."""
    yield _event(world, cycle, cycle.plan_day, "plan", "baseline", 30, with_lot=True)
    for number, day in enumerate(cycle.visit_days):
        phase = cycle.phase(number)
        if number == cycle.start:
            yield _event(world, cycle, day, "model", phase, 20)
        if phase == "coaching" and number == cycle.start + 1:
            yield _event(world, cycle, day, "rehearse", phase, 15)
        key = visit_keys.get((cycle.room, day))
        if key is not None:
            yield _event(world, cycle, day, "observe", phase, None, visit=key)
        if phase == "coaching":
            yield _event(world, cycle, day, "feedback", phase, 10)
        if phase == "fade":
            yield _event(world, cycle, day, "check_in", phase, 5)
    if cycle.is_closed:
        yield from _close(world, cycle)


def _close(world: World, cycle: Cycle) -> Iterator[tuple[object, ...]]:
    days = np.flatnonzero(world.calendar.in_session[cycle.room])
    later = [int(day) for day in days if day > cycle.visit_days[-1]]
    outcome = "moved" if cycle.gain >= 0.07 else "about_the_same"
    yield _event(world, cycle, later[0], "close", "maintenance", 20, outcome=outcome)
    if len(later) > 15:
        yield _event(world, cycle, later[15], "maintain", "maintenance", 10)


def _event(
    world: World,
    cycle: Cycle,
    day: int,
    kind: str,
    phase: str,
    minutes: int | None,
    *,
    with_lot: bool = False,
    visit: str | None = None,
    outcome: str | None = None,
) -> tuple[object, ...]:
    options = ";".join(world.day(one).isoformat() for one in cycle.options)
    chosen = world.day(cycle.options[cycle.start - _OPTIONS.start])
    return (
        cycle.cycle_id,
        world.rooms[cycle.room].room_id,
        world.people.staff_ids[world.people.staff_with("coach")[0]],
        cycle.routine_id,
        world.day(day),
        kind,
        phase,
        minutes,
        "responsiveness",
        0.85,
        options if with_lot else None,
        chosen if with_lot else None,
        visit,
        outcome,
    )
