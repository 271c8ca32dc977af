"""Records of an invented school's day, a file each, as the page for phones and tablets writes them.

A third each are lessons, draws, and looks with ten rows of their own.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

import duckdb

from app.capture.packed import packed, text_of
from app.capture.standing import file_name
from ingest.contracts import load_contracts

_CLASSES = """
    select classes.class_id, min(members.person_id) filter (members.role = 'teacher'),
        list(members.person_id order by members.person_id) filter (members.role = 'student')
    from latest.classes as classes
    inner join latest.memberships as members using (class_id)
    where classes.session_pattern = 'full_day' and members.begin_on <= cast($day as date)
        and (members.end_on is null or members.end_on > cast($day as date))
    group by classes.class_id
    having count(*) filter (members.role = 'teacher') > 0
    order by classes.class_id
"""
_ROUTINE = """
    select min(routine_id) from latest.routines
    where valid_from_on <= cast($day as date) and coalesce(valid_to_on > cast($day as date), true)
"""
_LAST_CYCLES = """
    select class_id, max(cycle_number) from latest.participation_draws group by class_id
"""


@dataclass(frozen=True)
class _Class:
    class_id: str
    teacher: str
    pupils: Sequence[str]
    next_cycle: int
    day: str
    routine: str


def write(folder: Path, landing: Path, day: str, count: int) -> None:
    """Write so many records of a day in the classes that a landing store knows; always the same."""
    chance = random.Random(1)
    classes = _classes(landing, day)
    for number in range(count):
        kind = (_lesson, _draw, _look)[number % 3]
        turn = number // 3
        key = str(UUID(int=chance.getrandbits(128), version=4))
        name, content = kind(key, classes[turn % len(classes)], turn // len(classes))
        (folder / name).write_bytes(content)


def _classes(landing: Path, day: str) -> list[_Class]:
    with duckdb.connect(str(landing), read_only=True) as con:
        cycles = dict(con.execute(_LAST_CYCLES).fetchall())
        [(routine,)] = con.execute(_ROUTINE, {"day": day}).fetchall()
        found = con.execute(_CLASSES, {"day": day}).fetchall()
    return [_Class(*row, 1 + (cycles.get(row[0]) or 0), day, routine) for row in found]


def _clock(turn: int) -> str:
    return f"{8 + turn // 12 % 7:02d}:{turn % 12 * 5:02d}"


def _lesson(key: str, room: _Class, turn: int) -> tuple[str, bytes]:
    record = {
        "lesson_id": key, "class_id": room.class_id, "routine_id": room.routine,
        "setting": "classroom", "taught_on": room.day, "started_at_local": _clock(turn),
        "minutes": "2", "lesson_kind": "booster", "mode": "in_person", "taught_by": room.teacher,
        "pupils_present": str(len(room.pupils)), "status": "delivered", "entered_by": room.teacher,
    }  # fmt: skip
    return _file("routine_lessons", key, record)


def _draw(key: str, room: _Class, turn: int) -> tuple[str, bytes]:
    rounds, place = divmod(turn, len(room.pupils))
    record = {
        "draw_id": key, "class_id": room.class_id, "drawn_on": room.day,
        "drawn_at_local": _clock(turn), "sequence_number": str(turn + 1),
        "cycle_number": str(room.next_cycle + rounds), "method": "cycle",
        "pupil_id": room.pupils[place], "outcome": "answered",
        "wait_seconds": "3", "context": "whole_class",
    }  # fmt: skip
    return _file("participation_draws", key, record)


def _look(key: str, room: _Class, turn: int) -> tuple[str, bytes]:
    record = {
        "observation_id": key, "class_id": room.class_id, "observer_id": room.teacher,
        "observed_on": room.day, "started_at_local": _clock(turn), "minutes_observed": "5",
        "minutes_instruction": "5", "routine_id": room.routine, "interval_seconds": "30",
        "taught_by_role": "teacher", "purpose": "routine",
    }  # fmt: skip
    return _file("observation_sessions", key, record, list(_rows(key, turn)))


def _rows(key: str, turn: int) -> Iterator[dict[str, str]]:
    for number in range(1, 11):
        code = "expected" if (number + turn) % 4 else "not_expected"
        yield {
            "observation_id": key, "row_number": str(number), "row_type": "moment", "code": code,
            "target_slot": str(number), "at_seconds": str(30 * number),
        }  # fmt: skip


def _file(
    feed: str, key: str, record: Mapping[str, str], rows: Sequence[Mapping[str, str]] = ()
) -> tuple[str, bytes]:
    contracts = load_contracts()
    text = text_of(contracts[feed], [record])
    if not rows:
        return file_name(feed, key, 1, ".csv"), text.encode("utf-8")
    more = "observation_rows"
    content = packed({feed: text, more: text_of(contracts[more], rows)})
    return file_name(feed, key, 1, ".zip"), content
