"""Pupils, staff and who belongs to which room when: movers, newcomers, leavers, shared posts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from ingest.sample.names import draw_names
from ingest.sample.options import FIRST_ON, Size, stream
from ingest.sample.rooms import Room

_LEAVE = (date(2026, 1, 5), date(2026, 3, 30))
_LEAVE_ROOM = "qb-rm17"
_SUBSTITUTES, _AIDES, _LEADERS = 2, 3, 4


@dataclass(frozen=True)
class Spell:
    """A stay in one room: from `begin_on` up to, not including, `end_on`."""

    room: int
    person: int
    begin_on: date
    end_on: date | None
    role: str = "student"
    is_primary: bool = True
    share: float | None = None


@dataclass(frozen=True)
class People:
    """Pupils and staff by place in their lists, their spells, and who may be drawn."""

    pupil_ids: tuple[str, ...]
    staff_ids: tuple[str, ...]
    staff_roles: tuple[str, ...]
    names: tuple[tuple[str, str], ...]
    pupil_spells: tuple[Spell, ...]
    staff_spells: tuple[Spell, ...]
    may_be_drawn: tuple[bool, ...]

    def staff_with(self, role: str) -> list[int]:
        """Places of the staff who hold this role."""
        return [place for place, one in enumerate(self.staff_roles) if one == role]

    @property
    def substitutes(self) -> list[int]:
        """Teachers without a room of their own."""
        placed = {spell.person for spell in self.staff_spells}
        return [one for one in self.staff_with("teacher") if one not in placed]

    def teachers_on(self, room: int, day: date) -> list[int]:
        """The teachers of a room on a day, the one with the larger share first."""
        here = [
            spell
            for spell in self.staff_spells
            if spell.room == room
            and spell.role == "teacher"
            and spell.begin_on <= day
            and (spell.end_on is None or day < spell.end_on)
        ]
        return [spell.person for spell in sorted(here, key=lambda one: -(one.share or 1.0))]


def make_people(rooms: Sequence[Room], size: Size, seed: int) -> People:
    """Draw everybody in the school; the same seed gives the same people."""
    rng = stream(seed, "people")
    spells = _pupil_spells(rooms, size, rng)
    pupil_count = 1 + max(spell.person for spell in spells)
    roles, staff_spells = _staff(rooms, size)
    numbers = rng.choice(90000, size=pupil_count + len(roles), replace=False) + 10000
    return People(
        pupil_ids=tuple(f"pu-{number}" for number in numbers[:pupil_count]),
        staff_ids=tuple(f"st-{number}" for number in numbers[pupil_count:]),
        staff_roles=tuple(roles),
        names=tuple(draw_names(len(numbers), rng)),
        pupil_spells=tuple(spells),
        staff_spells=tuple(staff_spells),
        may_be_drawn=(*(rng.random(pupil_count - 1) > 0.006).tolist(), True),
    )


def people_records(people: People) -> list[tuple[object, ...]]:
    """The people feed: the only one that carries names."""
    ids = (*people.pupil_ids, *people.staff_ids)
    roles = ("student",) * len(people.pupil_ids) + people.staff_roles
    return [(key, role, *name) for key, role, name in zip(ids, roles, people.names, strict=True)]


def membership_records(people: People, rooms: Sequence[Room]) -> list[tuple[object, ...]]:
    """The memberships feed, pupils first."""
    rows: list[tuple[object, ...]] = []
    for spell in people.pupil_spells:
        pupil = people.pupil_ids[spell.person]
        drawn = people.may_be_drawn[spell.person]
        where = rooms[spell.room].room_id
        rows.append((where, pupil, "student", spell.begin_on, spell.end_on, True, None, drawn))
    for spell in people.staff_spells:
        who = people.staff_ids[spell.person]
        where = rooms[spell.room].room_id
        held = (spell.begin_on, spell.end_on, spell.is_primary, spell.share, False)
        rows.append((where, who, spell.role, *held))
    return rows


def _pupil_spells(rooms: Sequence[Room], size: Size, rng: np.random.Generator) -> list[Spell]:
    counts = [room.places + int(rng.integers(-2, 2)) for room in rooms]
    homes = [room for room, count in enumerate(counts) for _ in range(count)]
    changes = rng.permutation(len(homes)).tolist()
    moving, leaving = _a_few(len(homes), 0.013), _a_few(len(homes), 0.021)
    movers = set(changes[:moving])
    leavers = set(changes[moving : moving + leaving])
    spells: list[Spell] = []
    for pupil, home in enumerate(homes):
        other = _like_room(rooms, home)
        if pupil in leavers or (pupil in movers and other is not None):
            day = _change_day(size, rng)
            spells.append(Spell(home, pupil, FIRST_ON, day))
            if pupil in movers and other is not None:
                spells.append(Spell(other, pupil, day, None))
        else:
            spells.append(Spell(home, pupil, FIRST_ON, None))
    for number in range(_a_few(len(homes), 0.03)):
        room = int(rng.integers(len(rooms)))
        spells.append(Spell(room, len(homes) + number, _change_day(size, rng), None))
    return [*spells, _late_newcomer(rooms, spells[-1].person + 1, size, rng)]


def _late_newcomer(
    rooms: Sequence[Room], person: int, size: Size, rng: np.random.Generator
) -> Spell:
    """The last pupil: joins in the recent weeks, in a room outside the grade that may dip."""
    places = [place for place, room in enumerate(rooms) if room.grades != ("02",)]
    return Spell(int(rng.choice(places)), person, size.recent_on, None)


def _a_few(count: int, share: float) -> int:
    return max(1, round(count * share))


def _change_day(size: Size, rng: np.random.Generator) -> date:
    """A Monday in school time, at least five weeks before the as-of date."""
    weeks = (size.as_of_on - FIRST_ON).days // 7
    taken = [7, 16, 17, 24, 30, 31]
    free = [week for week in range(3, max(4, weeks - 5)) if week not in taken]
    return date.fromordinal(FIRST_ON.toordinal() + 7 * int(rng.choice(free)))


def _like_room(rooms: Sequence[Room], home: int) -> int | None:
    """Another room of the same grade and session, where there is one."""
    mine = rooms[home]
    for place, room in enumerate(rooms):
        same = room.grades == mine.grades and room.session_pattern == mine.session_pattern
        if place != home and same:
            return place
    return None


def _staff(rooms: Sequence[Room], size: Size) -> tuple[list[str], list[Spell]]:
    posts = list(dict.fromkeys(room.teacher_key for room in rooms))
    spells: list[Spell] = []
    roles = ["teacher"] * len(posts)
    for place, room in enumerate(rooms):
        has_leave = room.room_id == _LEAVE_ROOM and _LEAVE[1] <= size.as_of_on
        teacher = posts.index(room.teacher_key)
        spells.extend(_room_teachers(place, room.is_co_taught, has_leave, teacher, roles))
    roles += ["teacher"] * _SUBSTITUTES
    kinder = [place for place, room in enumerate(rooms) if room.grades[0] in ("KG", "01")]
    for number in range(_AIDES):
        place = kinder[number % len(kinder)]
        spells.append(Spell(place, len(roles), FIRST_ON, None, "aide", False))
        roles.append("aide")
    return [*roles, "coach", *["leader"] * _LEADERS], spells


def _room_teachers(
    place: int, is_co_taught: bool, has_leave: bool, teacher: int, roles: list[str]
) -> list[Spell]:
    """One teacher, or two with shares, or one with a colleague during a leave; extends `roles`."""
    if is_co_taught:
        roles.append("teacher")
        return [
            Spell(place, teacher, FIRST_ON, None, "teacher", True, 0.6),
            Spell(place, len(roles) - 1, FIRST_ON, None, "teacher", False, 0.4),
        ]
    if has_leave:
        roles.append("teacher")
        return [
            Spell(place, teacher, FIRST_ON, _LEAVE[0], "teacher"),
            Spell(place, len(roles) - 1, _LEAVE[0], _LEAVE[1], "teacher"),
            Spell(place, teacher, _LEAVE[1], None, "teacher"),
        ]
    return [Spell(place, teacher, FIRST_ON, None, "teacher")]
