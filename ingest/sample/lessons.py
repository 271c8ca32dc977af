"""Lessons of routines: what each room gave, and when and by whom it was written down."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from ingest.sample.clock import local_time, moment
from ingest.sample.options import stream
from ingest.sample.plan import MINUTES, PlanRow, applies_to
from ingest.sample.routines import TIER_ONE, live_version
from ingest.sample.situations import Cast
from ingest.sample.world import World

_SLOT_MINUTES = 15
_LATE_ENTRY, _VERY_LATE_ENTRY = 0.14, 0.03
_CANCEL_REASONS = ("no_time", "assembly", "trip", "testing", "drill", "staff_absent")
_PRACTISED_IN = (
    "Story time: The Kite That Waited",
    "Story time: Seven Small Boats",
    "Story time: The Bridge of Reeds",
    "Number talk",
    "Word study",
    "Weather diary",
    "Music circle",
    "Map and garden walk",
    "Shared writing",
    "Reading pairs",
    "Building with shapes",
    "Seeds and roots",
)
_NOTES = (
    "Practised twice at the door",
    "Short today, went well",
    "Showed the picture cards again",
    "The new wording needs more time",
    "Tried it after lunch",
    "Pupils led the steps",
)


@dataclass(frozen=True)
class _Given:
    """One lesson that was given or called off, before it is written down."""

    room: int
    day: int
    routine_id: str
    kind: str


def lesson_records(world: World, plan: list[PlanRow], cast: Cast) -> list[tuple[object, ...]]:
    """The routine_lessons feed in order of day; nothing is entered after the as-of date."""
    rng = stream(world.seed, "lessons")
    rows: list[tuple[object, ...]] = []
    for room in range(len(world.rooms)):
        own = np.random.Generator(np.random.PCG64(rng.integers(2**63)))
        given = sorted(_given(world, plan, room, own), key=lambda one: (one.day, one.routine_id))
        rows.extend(_write_down(world, cast, room, given, own))
    rows = [row for row in rows if str(row[15])[:10] <= world.size.as_of_on.isoformat()]
    rows.sort(key=lambda row: (str(row[3]), str(row[0]), str(row[4])))
    return [(f"les-{number:06d}", *row) for number, row in enumerate(rows, start=1)]


def _given(
    world: World, plan: list[PlanRow], room: int, rng: np.random.Generator
) -> Iterator[_Given]:
    """Spread the planned lessons over the window's days; never one routine twice on one day."""
    diligence = float(rng.beta(30, 2.6))
    taken: set[tuple[str, int]] = set()
    for row in plan:
        if row.first_on > world.size.as_of_on or not applies_to(row, world.rooms[room]):
            continue
        whole = _weekday_count(row.first_on, row.last_on)
        last_on = min(row.last_on, world.size.as_of_on)
        days = world.calendar.open_days(room, row.first_on, last_on)
        due = row.lessons * _weekday_count(row.first_on, last_on) / whole
        count = int(due) + int(rng.random() < due % 1)
        free = [day for day in days if (row.routine_id, day) not in taken]
        for day in rng.permutation(free).tolist()[:count]:
            taken.add((row.routine_id, day))
            if rng.random() < diligence:
                yield _Given(room, day, row.routine_id, row.lesson_kind)
    yield from _unplanned(world, room, taken, rng)


def _unplanned(
    world: World, room: int, taken: set[tuple[str, int]], rng: np.random.Generator
) -> Iterator[_Given]:
    """A few lessons that no plan asked for: reminders, after a dip, for a newcomer."""
    days = np.flatnonzero(world.calendar.in_session[room])
    for day in rng.choice(days, size=len(days) // 15, replace=False).tolist():
        routine_id = str(rng.choice(TIER_ONE))
        if (routine_id, day) not in taken:
            kind = ("reminder", "data_dip", "newcomer")[int(rng.choice(3, p=(0.6, 0.3, 0.1)))]
            yield _Given(room, day, routine_id, kind)


def _weekday_count(first_on: date, last_on: date) -> int:
    days = (last_on - first_on).days + 1
    return sum((first_on + timedelta(days=day)).weekday() < 5 for day in range(days))


def _write_down(
    world: World, cast: Cast, room: int, given: list[_Given], rng: np.random.Generator
) -> Iterator[tuple[object, ...]]:
    """The rows of one room; a silent logger writes nothing in the recent weeks."""
    by_day: dict[int, list[_Given]] = {}
    for one in given:
        by_day.setdefault(one.day, []).append(one)
    is_silent, is_friday = room == cast.silent_logger, room == cast.friday_back_filler
    waiting = 0
    week = -1
    for day, lessons in by_day.items():
        on = world.day(day)
        starts = _starts(world, room, lessons, rng)
        if on.isocalendar().week != week:
            week, waiting = on.isocalendar().week, 0
        for lesson, start in zip(lessons, starts, strict=True):
            if is_friday:
                entered = _on_friday(world, room, day, waiting)
                waiting += 1
            else:
                entered = _entered(world, room, day, start, rng)
            row = _row(world, lesson, start, entered, rng)
            if not (is_silent and on >= world.size.recent_on):
                yield row


def _starts(world: World, room: int, lessons: list[_Given], rng: np.random.Generator) -> list[int]:
    """Start of each lesson in minutes after midnight, a quarter of an hour apart or more."""
    one = world.rooms[room]
    slots = (one.closes_at - one.opens_at) // _SLOT_MINUTES
    picks = rng.permutation(np.arange(1, slots))[: len(lessons)]
    starts = (one.opens_at + _SLOT_MINUTES * np.sort(picks)).tolist()
    return [
        one.opens_at if lesson.routine_id == "arrival" else int(start)
        for lesson, start in zip(lessons, starts, strict=True)
    ]


def _entered(world: World, room: int, day: int, start: int, rng: np.random.Generator) -> str:
    """Mostly the same day; some the next days in session, and a few a week later."""
    chance = rng.random()
    if chance >= _LATE_ENTRY + _VERY_LATE_ENTRY:
        seconds = min((start + int(rng.integers(10, 180))) * 60, 17 * 3600)
        return moment(world.day(day), seconds + int(rng.integers(60)))
    wait = 1 if chance < _LATE_ENTRY else int(rng.integers(3, 7))
    later = np.flatnonzero(world.calendar.in_session[room, day + 1 :])[:wait]
    entered_on = world.day(day + 1 + int(later[-1])) if len(later) == wait else date(2100, 1, 1)
    return moment(entered_on, int(rng.integers(15 * 3600, 17 * 3600)))


def _on_friday(world: World, room: int, day: int, waiting: int) -> str:
    """The whole week at once: on its last day in session after school, a minute or so apart."""
    monday = world.day(day) - timedelta(days=world.day(day).weekday())
    last = world.calendar.open_days(room, monday, monday + timedelta(days=4))[-1]
    return moment(world.day(last), 15 * 3600 + 25 * 60 + waiting * 74)


def _row(
    world: World, lesson: _Given, start: int, entered: str, rng: np.random.Generator
) -> tuple[object, ...]:
    """One row without its key."""
    on = world.day(lesson.day)
    routine = live_version(lesson.routine_id, on)
    steps = len(routine.steps)
    status = ("delivered", "partly", "cancelled")[int(rng.choice(3, p=(0.91, 0.06, 0.03)))]
    teachers, is_substitute = _taught_by(world, lesson, rng)
    minutes = max(2.0, round(MINUTES.get(lesson.kind, 4) * float(rng.normal(1, 0.18)) * 2) / 2)
    shown = lesson.kind in ("reminder", "practice_only")
    done = {"delivered": steps, "partly": int(rng.integers(1, steps)), "cancelled": None}[status]
    is_off = status == "cancelled"
    is_remote = world.calendar.kinds[lesson.day] == "remote"
    return (
        world.rooms[lesson.room].room_id,
        lesson.routine_id,
        routine.setting,
        on,
        local_time(start * 60)[:5],
        None if is_off else min(minutes, 15.0),
        lesson.kind,
        _mode(is_remote, rng),
        None if shown and rng.random() < 0.4 else str(rng.choice(_PRACTISED_IN)),
        teachers,
        is_substitute,
        None if is_off else world.present_count(lesson.room, lesson.day),
        None if status == "delivered" and rng.random() < 0.04 else done,
        status,
        None if status == "delivered" else str(rng.choice(_CANCEL_REASONS)),
        entered,
        teachers.split(";")[0],
        str(rng.choice(_NOTES)) if rng.random() < 0.07 else None,
    )


def _mode(is_remote: bool, rng: np.random.Generator) -> str:
    if is_remote:
        return "live_online"
    return ("in_person", "recorded", "at_home")[int(rng.choice(3, p=(0.96, 0.025, 0.015)))]


def _taught_by(world: World, lesson: _Given, rng: np.random.Generator) -> tuple[str, bool]:
    """Keys of the adults, and whether one of them is a substitute."""
    people = world.people
    teachers = people.teachers_on(lesson.room, world.day(lesson.day))
    if world.has_substitute[lesson.room, lesson.day]:
        stand_in = people.substitutes[lesson.room % len(people.substitutes)]
        return people.staff_ids[stand_in], True
    if len(teachers) > 1:
        together = rng.random()
        teachers = teachers if together < 0.25 else [teachers[0 if together < 0.7 else 1]]
    return ";".join(people.staff_ids[one] for one in teachers), False
