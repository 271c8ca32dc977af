"""The teaching plan: short practices in weeks 1 to 3, boosters, and reteaching after breaks."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from ingest.sample.options import FIRST_ON, LAST_ON, REWORDED_ON, SCHOOL_ID
from ingest.sample.rooms import Room
from ingest.sample.routines import TIER_ONE
from ingest.sample.school_year import BREAKS, break_returns

MINUTES = {"full": 10, "practice_only": 5, "booster": 6, "reminder": 3, "after_break": 8}
# lessons of each kind for every tier 1 routine in the opening weeks
_OPENING = (
    {"full": 2, "practice_only": 2},
    {"full": 1, "practice_only": 3},
    {"practice_only": 3, "booster": 1},
)
_FORTNIGHT_V1 = {"booster": 2, "practice_only": 1}
_FORTNIGHT_V2 = {"booster": 1, "practice_only": 1, "reminder": 1}
_MOST_NEEDED = ("settle-to-listen", "line-up", "voice-to-fit")


@dataclass(frozen=True)
class PlanRow:
    """One line of the plan, for a grade or for one room."""

    plan_id: str
    plan_version: int
    class_id: str | None
    grade: str | None
    routine_id: str
    lesson_kind: str
    first_on: date
    last_on: date
    lessons: int

    def record(self) -> tuple[object, ...]:
        """The line as the teaching_plan feed writes it."""
        return (
            self.plan_id,
            self.plan_version,
            SCHOOL_ID,
            self.class_id,
            self.grade,
            self.routine_id,
            self.lesson_kind,
            self.first_on,
            self.last_on,
            self.lessons,
            MINUTES[self.lesson_kind],
        )


def make_plan(rooms: tuple[Room, ...]) -> list[PlanRow]:
    """The whole year's plan: by grade for tier 1, by room for the mixed room and for tiers 2 and 3.

    A room of two grades has its own lines, so that no grade's plan is counted twice for it.
    """
    grades = sorted({room.grades[0] for room in rooms if len(room.grades) == 1})
    rows = [row for grade in grades for row in _tier_one(None, grade)]
    for room in rooms:
        if len(room.grades) > 1:
            rows.extend(_tier_one(room.room_id, None))
        rows.extend(_small_groups(room.room_id))
    return rows


def applies_to(row: PlanRow, room: Room) -> bool:
    """Whether this line is for this room."""
    if row.class_id is not None:
        return row.class_id == room.room_id
    return len(room.grades) == 1 and row.grade == room.grades[0]


def _tier_one(class_id: str | None, grade: str | None) -> Iterator[PlanRow]:
    whom = class_id or f"grade-{grade}"
    starts_late = 7 if grade == "KG" else 0
    for number, (first_on, last_on, kinds) in enumerate(_windows(starts_late), start=1):
        version = 2 if first_on >= REWORDED_ON else 1
        for routine_id in TIER_ONE:
            for kind, lessons in kinds.items():
                key = f"plan-{whom}-{routine_id}-{kind.replace('_', '-')}-{number:02d}"
                extra = 1 if kind == "after_break" and routine_id in _MOST_NEEDED else 0
                days = (first_on, last_on)
                yield PlanRow(
                    key, version, class_id, grade, routine_id, kind, *days, lessons + extra
                )


def _windows(starts_late: int) -> Iterator[tuple[date, date, dict[str, int]]]:
    """First day, last day and lessons by kind: opening weeks, fortnights, weeks after breaks."""
    opens_on = FIRST_ON + timedelta(days=starts_late)
    for week, kinds in enumerate(_OPENING):
        monday = opens_on + timedelta(weeks=week)
        yield monday, monday + timedelta(days=4), kinds
    for monday, last_on in _fortnights(opens_on + timedelta(weeks=3)):
        yield monday, last_on, _FORTNIGHT_V2 if monday >= REWORDED_ON else _FORTNIGHT_V1
    for back_on in break_returns():
        yield back_on, back_on + timedelta(days=4), {"after_break": 1}


def _fortnights(monday: date) -> Iterator[tuple[date, date]]:
    """Pairs of school weeks; a break ends a pair early."""
    closed = {first_on for _, first_on, _ in BREAKS}
    closed |= {
        first_on + timedelta(days=7)
        for _, first_on, last_on in BREAKS
        if (last_on - first_on).days > 7
    }
    while monday < LAST_ON:
        if monday in closed:
            monday += timedelta(days=7)
            continue
        after = monday + timedelta(days=7)
        weeks = 1 if after in closed or after > LAST_ON else 2
        yield monday, monday + timedelta(days=7 * weeks - 3)
        monday += timedelta(days=7 * weeks)


def _small_groups(class_id: str) -> Iterator[PlanRow]:
    """Tier 2 and 3 practice: a few short lessons a month in every room."""
    for routine_id in ("morning-greeting-plan", "individual-plan-practice"):
        for number, (first_on, last_on) in enumerate(_fortnights(FIRST_ON + timedelta(weeks=5)), 1):
            key = f"plan-{class_id}-{routine_id}-{number:02d}"
            version = 2 if first_on >= REWORDED_ON else 1
            days = (first_on, last_on)
            yield PlanRow(key, version, class_id, None, routine_id, "practice_only", *days, 1)
