"""Say in plain words what was planted where, for tests and audits."""

from collections.abc import Iterator
from datetime import date

from ingest.sample.coaching import Cycle, coached_from
from ingest.sample.manifest import PlantedSituation
from ingest.sample.options import FIRST_ON
from ingest.sample.school_year import term_of
from ingest.sample.situations import (
    COACHED_GAIN,
    COACHED_ROUTINE,
    DIP_FIRST_ON,
    DIP_GRADE,
    DIP_LAST_ON,
    DIP_ROUTINE,
    DIP_SIZE,
    HARSHNESS,
    LOW_VOICE_ROUTINE,
    LOW_VOICE_SIZE,
    Cast,
)
from ingest.sample.world import World


def planted_situations(
    world: World, cast: Cast, cycles: tuple[Cycle, ...]
) -> tuple[PlantedSituation, ...]:
    """Every situation this school contains, in a fixed order."""
    return (
        *_turns(world, cast),
        *_logs(world, cast),
        *_visits(world, cast),
        *_coached(world, cast, cycles),
        *_wide(world, cast),
    )


def _recent(
    world: World, name: str, room: int, found: str, **facts: str | float
) -> PlantedSituation:
    """A situation of the recent weeks in one room."""
    recent_on, as_of_on = world.size.recent_on, world.size.as_of_on
    routine_id = facts.pop("routine_id", None)
    return PlantedSituation(
        name=name,
        must_be_found=found,
        first_on=recent_on,
        last_on=as_of_on,
        class_id=world.rooms[room].room_id,
        routine_id=None if routine_id is None else str(routine_id),
        term_id=term_of(recent_on),
        facts=facts,
    )


def _turns(world: World, cast: Cast) -> Iterator[PlantedSituation]:
    if cast.lost_card is not None:
        room, pupil = cast.lost_card
        yield _recent(
            world,
            "lost_card",
            room,
            "one pupil of the class is never drawn while rounds are marked complete",
            pupil_id=world.people.pupil_ids[pupil],
        )
    if cast.newcomer_never_added is not None:
        room, pupil = cast.newcomer_never_added
        yield _recent(
            world,
            "newcomer_never_added",
            room,
            "a pupil who joined on the first day is never drawn",
            pupil_id=world.people.pupil_ids[pupil],
        )


def _logs(world: World, cast: Cast) -> Iterator[PlantedSituation]:
    if cast.silent_logger is not None:
        found = "visits saw the routines being taught, no lesson is logged"
        yield _recent(world, "silent_logger", cast.silent_logger, found)
    if cast.friday_back_filler is not None:
        yield PlantedSituation(
            name="friday_back_filler",
            must_be_found="every lesson of a week is entered on its last day after school",
            first_on=FIRST_ON,
            last_on=world.size.as_of_on,
            class_id=world.rooms[cast.friday_back_filler].room_id,
        )


def _visits(world: World, cast: Cast) -> Iterator[PlantedSituation]:
    if cast.low_voice_match is not None:
        yield _recent(
            world,
            "low_voice_match",
            cast.low_voice_match,
            "voice match is clearly below the criterion on several days",
            routine_id=LOW_VOICE_ROUTINE,
            shift=LOW_VOICE_SIZE,
        )
    if cast.thin_class is not None:
        found = "only two visits in the year: too little to say, and no prompt"
        yield _recent(world, "thin_class", cast.thin_class, found, visits=2)


def _coached(world: World, cast: Cast, cycles: tuple[Cycle, ...]) -> Iterator[PlantedSituation]:
    starts = coached_from(world, cycles)
    planted = (
        ("coached_improved", cast.coached_improved, COACHED_GAIN),
        ("coached_unmoved", cast.coached_unmoved, 0.0),
    )
    for name, room, gain in planted:
        cycle = next((one for one in cycles if one.room == room), None)
        if room is None or cycle is None:
            continue
        start_on, _ = starts[room, COACHED_ROUTINE]
        yield PlantedSituation(
            name=name,
            must_be_found="moved after the start" if gain else "about the same after the start",
            first_on=world.day(cycle.plan_day),
            last_on=world.day(cycle.visit_days[-1]),
            class_id=world.rooms[room].room_id,
            routine_id=COACHED_ROUTINE,
            term_id=term_of(start_on),
            facts={"cycle_id": cycle.cycle_id, "start_on": start_on.isoformat(), "gain": gain},
        )


def _wide(world: World, cast: Cast) -> Iterator[PlantedSituation]:
    if cast.dip_rooms:
        yield PlantedSituation(
            name="dip_after_break",
            must_be_found="a grade matter: the routine dipped in every room of the grade",
            first_on=DIP_FIRST_ON,
            last_on=DIP_LAST_ON,
            grade_code=DIP_GRADE,
            routine_id=DIP_ROUTINE,
            term_id=term_of(DIP_FIRST_ON),
            facts={
                "class_ids": ";".join(world.rooms[room].room_id for room in cast.dip_rooms),
                "shift": DIP_SIZE,
            },
        )
    if cast.harsh_observer is not None:
        yield PlantedSituation(
            name="harsh_observer",
            must_be_found="in pairs this observer sees fewer moments as agreed than the other",
            first_on=date(2025, 9, 8),
            last_on=world.size.as_of_on,
            facts={
                "observer_id": world.people.staff_ids[cast.harsh_observer],
                "shift": HARSHNESS,
            },
        )
