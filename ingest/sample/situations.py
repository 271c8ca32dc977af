"""Casting: which room, pupil or observer plays which planted situation.

A room plays at most one part, so that each situation can be judged alone. In a small school parts
that find no room, or whose time lies after the as-of date, are left out (and not in the manifest).
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from ingest.sample.options import Situations, stream
from ingest.sample.people import People
from ingest.sample.rooms import Room
from ingest.sample.school_year import Calendar

DIP_FIRST_ON, DIP_LAST_ON = date(2026, 1, 5), date(2026, 1, 30)
DIP_ROUTINE, DIP_GRADE, DIP_SIZE = "line-up", "02", -0.27
HARSHNESS = -0.12
COACHED_ROUTINE, COACHED_GAIN = "fair-turns", 0.20
COACHED_FIRST_ON = date(2026, 1, 12)
LOW_VOICE_ROUTINE, LOW_VOICE_SIZE = "voice-to-fit", -0.34


@dataclass(frozen=True)
class Cast:
    """Who plays what; a part that was not planted is None (or empty)."""

    lost_card: tuple[int, int] | None = None
    newcomer_never_added: tuple[int, int] | None = None
    silent_logger: int | None = None
    friday_back_filler: int | None = None
    low_voice_match: int | None = None
    thin_class: int | None = None
    coached_improved: int | None = None
    coached_unmoved: int | None = None
    dip_rooms: tuple[int, ...] = ()
    harsh_observer: int | None = None

    @property
    def unseen_pupils(self) -> frozenset[int]:
        """Pupils whose card is not in the box in the recent weeks."""
        pairs = (self.lost_card, self.newcomer_never_added)
        return frozenset(pair[1] for pair in pairs if pair)

    def judged_by_visits(self) -> set[int]:
        """Rooms whose part shows in the visits, so that no coaching may blur it."""
        singles = (
            self.low_voice_match,
            self.thin_class,
            self.coached_improved,
            self.coached_unmoved,
        )
        return {*(room for room in singles if room is not None), *self.dip_rooms}


def cast_situations(
    rooms: tuple[Room, ...],
    people: People,
    calendar: Calendar,
    wanted: Situations,
    seed: int,
) -> Cast:
    """Choose rooms and people for every wanted situation that this school is large enough for."""
    rng = stream(seed, "situations")
    dip = _dip_rooms(rooms, calendar) if wanted.dip_after_break else ()
    late = people.pupil_spells[-1]
    set_apart = {late.room, *_grade_rooms(rooms)}
    free = [int(room) for room in rng.permutation(len(rooms)) if int(room) not in set_apart]
    whole = [room for room in free if rooms[room].session_pattern == "full_day"]
    has_winter = calendar.days[-1] >= date(2026, 4, 1)

    def take(name: str, pool: list[int], is_possible: bool = True) -> int | None:
        usable = [room for room in pool if room in free]
        if not usable or not is_possible:
            return None
        free.remove(usable[0])
        return usable[0] if getattr(wanted, name) else None

    lost = take("lost_card", whole)
    return Cast(
        lost_card=None if lost is None else (lost, _stayer(people, lost, rng)),
        newcomer_never_added=(late.room, late.person) if wanted.newcomer_never_added else None,
        silent_logger=take("silent_logger", free),
        friday_back_filler=take("friday_back_filler", free),
        low_voice_match=take("low_voice_match", whole),
        thin_class=take("thin_class", whole),
        coached_improved=take("coached_improved", whole, has_winter),
        coached_unmoved=take("coached_unmoved", whole, has_winter),
        dip_rooms=dip,
        harsh_observer=_harsh(people, rng) if wanted.harsh_observer else None,
    )


def dip_weight(day: date) -> float:
    """How much of the grade-wide dip is felt: full at first, gone after four weeks."""
    if not DIP_FIRST_ON <= day <= DIP_LAST_ON + timedelta(days=14):
        return 0.0
    late = max(0, (day - DIP_LAST_ON).days)
    return max(0.0, 1.0 - late / 14)


def _dip_rooms(rooms: tuple[Room, ...], calendar: Calendar) -> tuple[int, ...]:
    places = _grade_rooms(rooms)
    return places if len(places) >= 3 and calendar.days[-1] > DIP_LAST_ON else ()


def _grade_rooms(rooms: tuple[Room, ...]) -> tuple[int, ...]:
    return tuple(place for place, room in enumerate(rooms) if room.grades == (DIP_GRADE,))


def _stayer(people: People, room: int, rng: np.random.Generator) -> int:
    """A pupil who may be drawn and belongs to this room all year."""
    moved = {spell.person for spell in people.pupil_spells if spell.end_on is not None}
    first_on = min(spell.begin_on for spell in people.pupil_spells)
    pupils = [
        spell.person
        for spell in people.pupil_spells
        if spell.room == room and spell.begin_on == first_on and spell.person not in moved
    ]
    return int(rng.choice([one for one in pupils if people.may_be_drawn[one]]))


def _harsh(people: People, rng: np.random.Generator) -> int:
    return int(rng.choice(people.staff_with("leader")))
