"""Who was where on which day: attendance and rosters, which every feed is drawn from."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from ingest.sample.options import Size, stream
from ingest.sample.people import People
from ingest.sample.rooms import Room
from ingest.sample.school_year import Calendar

_STAYS_AWAY = 0.45


@dataclass(frozen=True)
class World:
    """The invented school before anybody writes anything down.

    `room_of[pupil, day]` is the place of the pupil's room, -1 when not enrolled; `is_here` is true
    on a day the pupil came to school; `has_substitute[room, day]`.
    """

    seed: int
    size: Size
    rooms: tuple[Room, ...]
    people: People
    calendar: Calendar
    room_of: npt.NDArray[np.int16]
    is_here: npt.NDArray[np.bool_]
    has_substitute: npt.NDArray[np.bool_]

    def enrolled(self, room: int, day: int) -> list[int]:
        """Pupils who belong to the room on this day."""
        return [int(pupil) for pupil in np.flatnonzero(self.room_of[:, day] == room)]

    def present_count(self, room: int, day: int) -> int:
        """How many pupils of the room came on this day."""
        return int(((self.room_of[:, day] == room) & self.is_here[:, day]).sum())

    def day(self, place: int) -> date:
        """The date of a weekday by its place in the calendar."""
        return self.calendar.days[place]


def make_world(
    rooms: Sequence[Room], people: People, calendar: Calendar, size: Size, seed: int
) -> World:
    """Draw attendance and substitute days for the whole year."""
    rng = stream(seed, "attendance")
    days = calendar.days
    room_of = np.full((len(people.pupil_ids), len(days)), -1, dtype=np.int16)
    for spell in people.pupil_spells:
        first = calendar.index_of(spell.begin_on)
        stop = len(days) if spell.end_on is None else calendar.index_of(spell.end_on)
        room_of[spell.person, first:stop] = spell.room
    return World(
        seed=seed,
        size=size,
        rooms=tuple(rooms),
        people=people,
        calendar=calendar,
        room_of=room_of,
        is_here=_attendance(len(people.pupil_ids), len(days), rng),
        has_substitute=rng.random((len(rooms), len(days))) < 0.03,
    )


def _attendance(pupils: int, days: int, rng: np.random.Generator) -> npt.NDArray[np.bool_]:
    """Absence comes in spells: each pupil has an own rate, and stays away with a fixed chance."""
    rate = rng.beta(2.0, 42.0, size=pupils)
    chance = rng.random((pupils, days))
    is_away = np.zeros((pupils, days), dtype=bool)
    is_away[:, 0] = chance[:, 0] < rate
    for day in range(1, days):
        starts = rate * (1 - _STAYS_AWAY)
        is_away[:, day] = chance[:, day] < np.where(is_away[:, day - 1], _STAYS_AWAY, starts)
    return ~is_away
