"""Put the invented school together and write it to a folder."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from ingest.sample.clock import moment
from ingest.sample.coaching import Cycle, coached_from, coaching_records, make_cycles
from ingest.sample.decisions import decision_records
from ingest.sample.draws import draw_records
from ingest.sample.lessons import lesson_records
from ingest.sample.looks import row_records
from ingest.sample.manifest import SampleManifest
from ingest.sample.options import (
    DEFAULT_SEED,
    FULL,
    SCHOOL_ID,
    SCHOOL_NAME,
    TIME_ZONE,
    Situations,
    Size,
)
from ingest.sample.people import make_people, membership_records, people_records
from ingest.sample.plan import make_plan
from ingest.sample.planted import planted_situations
from ingest.sample.rooms import Room, make_rooms
from ingest.sample.routines import routine_records, step_records
from ingest.sample.school_year import (
    calendar_events,
    day_rows,
    make_calendar,
    term_records,
)
from ingest.sample.situations import Cast, cast_situations
from ingest.sample.supports import check_records, family_records, make_supports, plan_records
from ingest.sample.truth import Truth, make_truth, true_shares
from ingest.sample.visits import make_visits, session_records, visit_keys
from ingest.sample.world import World, make_world
from ingest.sample.write import (
    Record,
    write_calendar,
    write_csv,
    write_months,
    write_workbook,
)

ALL_SITUATIONS = Situations()


@dataclass(frozen=True)
class School:
    """Everything that is true of one invented school, and its records by feed."""

    world: World
    cast: Cast
    cycles: tuple[Cycle, ...]
    truth: Truth
    records: dict[str, list[Record]]


def make_school(
    seed: int = DEFAULT_SEED, size: Size = FULL, situations: Situations = ALL_SITUATIONS
) -> School:
    """Draw the whole school in memory; the same arguments give the same records."""
    rooms = make_rooms(size)
    people = make_people(rooms, size, seed)
    calendar = make_calendar(rooms, size.as_of_on)
    world = make_world(rooms, people, calendar, size, seed)
    cast = cast_situations(rooms, people, calendar, situations, seed)
    cycles = make_cycles(world, cast)
    truth = make_truth(world, cast, coached_from(world, cycles))
    records = {**_agreed(rooms, world), **_happened(world, cast, cycles, truth)}
    return School(world, cast, cycles, truth, records)


def generate(
    folder: Path,
    seed: int = DEFAULT_SEED,
    size: Size = FULL,
    situations: Situations = ALL_SITUATIONS,
) -> SampleManifest:
    """Write one invented school to `folder` (made if it is not there) and say what is in it.

    Same arguments, same bytes. Most feeds are one CSV file; draws are a zip of one CSV file a
    month, practice at home is a workbook; a feed without rows is not written. The subfolder
    `other_forms` says some of it again in another form and is not meant to be loaded as well.
    """
    school = make_school(seed, size, situations)
    folder.mkdir(parents=True, exist_ok=True)
    files = tuple(_write(folder, feed, rows) for feed, rows in school.records.items() if rows)
    return SampleManifest(
        folder=folder,
        seed=seed,
        school_id=SCHOOL_ID,
        school_name=SCHOOL_NAME,
        time_zone=TIME_ZONE,
        as_of_on=size.as_of_on,
        received_at=datetime.fromisoformat(moment(size.as_of_on, 18 * 3600)),
        files=files,
        alternatives=(_write_other_forms(folder / "other_forms"),),
        row_counts={feed: len(rows) for feed, rows in school.records.items()},
        situations=planted_situations(school.world, school.cast, school.cycles),
        true_shares=true_shares(school.world, school.truth),
    )


def _agreed(rooms: tuple[Room, ...], world: World) -> dict[str, list[Record]]:
    """What stands before the first lesson: roster, calendar, routines and plan."""
    return {
        "schools": [(SCHOOL_ID, SCHOOL_NAME, None)],
        "classes": [_class_record(room) for room in rooms],
        "people": people_records(world.people),
        "memberships": membership_records(world.people, rooms),
        "terms": term_records(),
        "school_days": [
            (SCHOOL_ID, row.day_on, row.day_kind, row.applies_to, row.label, row.lost_minutes)
            for row in day_rows([room.room_id for room in rooms])
        ],
        "routines": routine_records(),
        "routine_steps": step_records(),
        "teaching_plan": [row.record() for row in make_plan(rooms)],
    }


def _happened(
    world: World, cast: Cast, cycles: tuple[Cycle, ...], truth: Truth
) -> dict[str, list[Record]]:
    """What the rooms sent in."""
    visits = make_visits(world, cast, cycles)
    supports = make_supports(world)
    return {
        "routine_lessons": lesson_records(world, make_plan(world.rooms), cast),
        "participation_draws": draw_records(world, cast),
        "observation_sessions": session_records(world, visits),
        "observation_rows": row_records(world, truth, visits),
        "coaching_events": coaching_records(world, cycles, visit_keys(visits)),
        "offer_decisions": decision_records(world, cast, cycles),
        "support_plans": plan_records(world, supports),
        "support_checks": check_records(world, supports),
        "family_practice": family_records(world),
    }


def _class_record(room: Room) -> Record:
    grades = ";".join(room.grades)
    return (room.room_id, SCHOOL_ID, room.title, grades, room.session_pattern, 2026)


def _write(folder: Path, feed: str, rows: list[Record]) -> Path:
    if feed == "participation_draws":
        return write_months(folder / f"{feed}.zip", feed, rows, "drawn_on")
    if feed == "family_practice":
        return write_workbook(folder / f"{feed}.xlsx", feed, rows)
    return write_csv(folder / f"{feed}.csv", feed, rows)


def _write_other_forms(folder: Path) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    return write_calendar(folder / "calendar.ics", calendar_events())
