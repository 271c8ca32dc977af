"""Supports of tiers 2 and 3 with weekly checks, and practice at home. Codes and counts only."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from ingest.sample.options import FIRST_ON, stream
from ingest.sample.routines import TIER_ONE
from ingest.sample.world import World

_TIER_TWO, _TIER_THREE = 0.085, 0.03
_TWO_KINDS = ("small_group", "daily_check", "practice_partner")
_THREE_KINDS = ("individual", "adjusted_routine")


@dataclass(frozen=True)
class Support:
    """One support: `first` and `stop` are places in the calendar, stop the first day without."""

    pupil: int
    tier: int
    kind: str
    first: int
    stop: int | None
    sessions_per_week: int
    minutes_each: int
    steps: int


def make_supports(world: World) -> tuple[Support, ...]:
    """Draw who gets a support; a child that goes from tier 2 to 3 has two, one after the other."""
    rng = stream(world.seed, "supports")
    settled = np.flatnonzero((world.room_of >= 0).all(axis=1))
    pupils = rng.permutation(settled).tolist()
    two = round(_TIER_TWO * len(settled))
    three = max(1, round(_TIER_THREE * len(settled)))
    supports = [_support(world, pupil, 2, rng) for pupil in pupils[:two]]
    supports += [_support(world, pupil, 3, rng) for pupil in pupils[two : two + three]]
    supports += list(_stepped_up(world, pupils[two + three : two + three + 3], rng))
    return tuple(sorted(supports, key=lambda one: (one.first, one.pupil)))


def plan_records(world: World, supports: tuple[Support, ...]) -> list[tuple[object, ...]]:
    """The support_plans feed; the next review is the next six-week mark after the as-of date."""
    rows: list[tuple[object, ...]] = []
    for number, one in enumerate(supports, start=1):
        begin_on = world.day(one.first)
        held = (world.size.as_of_on - begin_on).days // 42 + 1
        review_on = None if one.stop is not None else begin_on + timedelta(days=42 * held)
        pupil = world.people.pupil_ids[one.pupil]
        end_on = None if one.stop is None else world.day(one.stop)
        amount = (one.sessions_per_week, one.minutes_each)
        key = f"sup-{number:03d}"
        rows.append((key, pupil, one.tier, one.kind, begin_on, end_on, *amount, review_on))
    return rows


def check_records(world: World, supports: tuple[Support, ...]) -> list[tuple[object, ...]]:
    """The support_checks feed: one a week on the room's last day in session."""
    rng = stream(world.seed, "support checks")
    rows: list[tuple[object, ...]] = []
    for number, one in enumerate(supports, start=1):
        for row in _checks(world, one, rng):
            rows.append((f"chk-{len(rows) + 1:05d}", f"sup-{number:03d}", *row))
    return rows


def family_records(world: World) -> list[tuple[object, ...]]:
    """The family_practice feed: one routine every other week in each room."""
    rng = stream(world.seed, "family practice")
    rows: list[tuple[object, ...]] = []
    for room, one in enumerate(world.rooms):
        usual = float(rng.beta(6, 7))
        for number, monday in enumerate(_mondays(world, room)):
            if number % 2 or rng.random() < 0.1:
                continue
            routine_id = TIER_ONE[(number // 2 + room) % len(TIER_ONE)]
            asked = len(world.enrolled(room, world.calendar.index_of(monday)))
            told = int(rng.binomial(asked, usual))
            rows.append((one.room_id, routine_id, monday, asked, told))
    return rows


def _support(world: World, pupil: int, tier: int, rng: np.random.Generator) -> Support:
    kinds = _TWO_KINDS if tier == 2 else _THREE_KINDS
    last = len(world.calendar.days)
    first = int(rng.integers(20, max(21, last - 35)))
    stop = first + int(rng.integers(40, 80)) if rng.random() < 0.25 else last
    return Support(
        pupil=pupil,
        tier=tier,
        kind=str(rng.choice(kinds)),
        first=first,
        stop=stop if stop < last else None,
        sessions_per_week=int(rng.integers(2, 5)) if tier == 2 else int(rng.integers(3, 6)),
        minutes_each=int(rng.choice((10, 15, 20))),
        steps=3 if tier == 2 else 4,
    )


def _stepped_up(world: World, pupils: list[int], rng: np.random.Generator) -> Iterator[Support]:
    """Tier 2 until a day, tier 3 from that day on."""
    for pupil in pupils:
        before, after = _support(world, pupil, 2, rng), _support(world, pupil, 3, rng)
        first, turn = 22, min(60, len(world.calendar.days) - 10)
        yield Support(**{**before.__dict__, "first": first, "stop": turn})
        yield Support(**{**after.__dict__, "first": turn, "stop": None})


def _mondays(world: World, room: int) -> Iterator[date]:
    """Mondays of the weeks from the fourth on in which the room was in session."""
    monday = FIRST_ON + timedelta(weeks=3)
    while monday + timedelta(days=6) <= world.size.as_of_on + timedelta(days=2):
        if world.calendar.open_days(room, monday, monday + timedelta(days=4)):
            yield monday
        monday += timedelta(days=7)


def _checks(world: World, one: Support, rng: np.random.Generator) -> Iterator[tuple[object, ...]]:
    """What was planned and given in each week; most missing sessions are the child's absence."""
    rate = float(rng.beta(14, 2.5))
    stop = one.stop if one.stop is not None else len(world.calendar.days)
    weeks: dict[tuple[int, int], list[int]] = {}
    for day in range(one.first, stop):
        if world.calendar.in_session[world.room_of[one.pupil, day], day]:
            on = world.day(day).isocalendar()
            weeks.setdefault((on.year, on.week), []).append(day)
    for days in weeks.values():
        planned = max(1, round(one.sessions_per_week * len(days) / 5))
        if rng.random() < 0.06:
            continue
        away = round(planned * float(1 - world.is_here[one.pupil, days].mean()))
        given = int(rng.binomial(planned - away, rate))
        yield _check(world, one, days[-1], planned, given, away, rng)


def _check(
    world: World,
    one: Support,
    day: int,
    planned: int,
    given: int,
    away: int,
    rng: np.random.Generator,
) -> tuple[object, ...]:
    reason = None
    if given < planned:
        others = ("no_time", "staff_absent", "pupil_declined", "other")
        reason = "pupil_absent" if away else others[int(rng.choice(4, p=(0.4, 0.35, 0.15, 0.1)))]
    applicable = given * one.steps
    return (
        world.day(day),
        _checker(world, one, day),
        ("own_record", "direct_look", "product")[int(rng.choice(3, p=(0.75, 0.18, 0.07)))],
        planned,
        given,
        int(rng.binomial(applicable, 0.86)),
        applicable,
        given * one.minutes_each,
        reason,
    )


def _checker(world: World, one: Support, day: int) -> str:
    """The aide for tier 2 groups, the room's teacher otherwise."""
    aides = world.people.staff_with("aide")
    room = int(world.room_of[one.pupil, day])
    teacher = world.people.teachers_on(room, world.day(day))[0]
    return world.people.staff_ids[aides[room % len(aides)] if one.tier == 2 else teacher]
