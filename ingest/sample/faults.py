"""Deliberately faulty files, made from the clean ones: what a school's office sends by mistake.

They are meant to be loaded after the clean files, through the same door.
"""

import csv
import io
import zipfile
from collections.abc import Callable, Iterable
from datetime import timedelta
from pathlib import Path

from ingest.sample.manifest import FaultyFile, SampleManifest
from ingest.sample.write import columns, csv_bytes

_Row = dict[str, str]
_CLOSED_ON = "2025-11-03"
_COPIED = "observation_sessions"
# what goes wrong in each row of the lessons file; the rows between are as they should be
_LESSON_FAULTS: tuple[tuple[str | None, _Row], ...] = (
    (None, {"minutes": "3.5"}),
    ("unknown_code", {"lesson_kind": "boster"}),
    ("minutes_as_clock_time", {"minutes": "0:12"}),
    ("steps_done_over_steps", {"steps_done": "8"}),
    (None, {"minutes": "4.5"}),
    ("cancelled_with_minutes", {"status": "cancelled", "cancel_reason": "assembly"}),
    ("closed_day", {"taught_on": _CLOSED_ON}),
    ("unknown_reference", {"class_id": "qb-rm66"}),
    ("percent_for_count", {"pupils_present": "85%"}),
    ("minutes_as_seconds", {"minutes": "600"}),
    ("future_date", {"taught_on": ""}),
    (None, {"minutes": "5.5"}),
)


def faulty(folder: Path, clean: SampleManifest) -> tuple[FaultyFile, ...]:
    """Write the faulty files to `folder` and say, for each, what the door must answer.

    `clean` is what `generate` returned; its files are read again. Same manifest, same bytes.
    """
    folder.mkdir(parents=True, exist_ok=True)
    return (
        _bad_lessons(folder, clean),
        _swapped_dates(folder, clean),
        _added_column(folder, clean),
        _sent_again(folder, clean),
        _old_cards(folder, clean),
    )


def _bad_lessons(folder: Path, clean: SampleManifest) -> FaultyFile:
    room = _quiet_room(clean)
    pattern = _read(clean, "routine_lessons", lambda row: row["class_id"] == room)[-1]
    day_after = (clean.as_of_on + timedelta(days=30)).isoformat()
    rows: list[_Row] = []
    for number, (rule, change) in enumerate(_LESSON_FAULTS, start=1):
        row = {
            **pattern,
            "routine_id": "arrival",
            "lesson_id": f"les-r{number:03d}",
            "setting": "entrance",
            "lesson_kind": "reminder",
            "started_at_local": f"10:{number * 4:02d}",
            "minutes": "3",
            "steps_done": "4",
            "status": "delivered",
            "cancel_reason": "",
            **change,
        }
        rows.append({**row, "taught_on": day_after} if rule == "future_date" else row)
    path = _write(folder / "routine_lessons_from_one_room.csv", "routine_lessons", rows)
    rules = tuple(rule for rule, _ in _LESSON_FAULTS if rule)
    what = "twelve lessons of one room, nine with slips of the pen"
    return FaultyFile(path, "routine_lessons", "quarantine", rules, len(rows), len(rules), what)


def _swapped_dates(folder: Path, clean: SampleManifest) -> FaultyFile:
    feed = "participation_draws"
    month = f"{clean.as_of_on:%Y-%m}"
    rows = _draws(clean, month)[-24:]
    for number, row in enumerate(rows, start=1):
        year, month, day = row["drawn_on"].split("-")
        row.update(draw_id=f"drw-x{number:03d}", drawn_on=f"{day}/{month}/{year}")
    path = _write(folder / "participation_draws_other_dates.csv", feed, rows)
    rules = ("date_order_swapped",)
    what = "a draws file of another program, with day and month before the year"
    return FaultyFile(path, feed, "refuse", rules, len(rows), 0, what)


def _added_column(folder: Path, clean: SampleManifest) -> FaultyFile:
    feed = "support_checks"
    rows = _read(clean, feed, lambda _: True)[:3]
    names = columns(feed)
    path = folder / "support_checks_with_remarks.csv"
    path.write_bytes(
        csv_bytes((*names, "remark"), ((*(row[one] for one in names), "went well") for row in rows))
    )
    what = "support checks with a column of free text, which this feed must not have"
    return FaultyFile(path, feed, "refuse", ("unknown_column",), len(rows), 0, what)


def _sent_again(folder: Path, clean: SampleManifest) -> FaultyFile:
    first = next(path for path in clean.files if path.stem == _COPIED)
    path = folder / f"{_COPIED}_again.csv"
    path.write_bytes(first.read_bytes())
    what = "a file that was sent before, under another name"
    count = clean.row_counts[_COPIED]
    return FaultyFile(path, _COPIED, "known", ("duplicate_upload",), count, 0, what)


def _old_cards(folder: Path, clean: SampleManifest) -> FaultyFile:
    """Three draws of one more moment of talk; the second child has left the class."""
    feed = "participation_draws"
    stays = _read(clean, "memberships", lambda row: row["role"] == "student")
    moved = {row["person_id"] for row in stays if row["end_on"] == ""}
    gone = [row for row in stays if row["end_on"] and row["person_id"] not in moved]
    left = min(gone, key=lambda row: row["class_id"] in _busy_rooms(clean))
    last = max(
        (row for row in _draws(clean, "") if row["class_id"] == left["class_id"]),
        key=lambda row: (row["drawn_on"], int(row["sequence_number"])),
    )
    here = [row["person_id"] for row in stays if _is_drawn(row, left["class_id"])]
    rows = [
        {
            **last,
            "draw_id": f"drw-y{number:03d}",
            "sequence_number": str(int(last["sequence_number"]) + number),
            "cycle_number": "",
            "method": "teacher_choice",
            "pupil_id": pupil,
            "outcome": "answered",
        }
        for number, pupil in enumerate((here[0], left["person_id"], here[1]), start=1)
    ]
    path = _write(folder / "participation_draws_old_cards.csv", feed, rows)
    what = "three draws, one of a child who has left the class"
    return FaultyFile(path, feed, "quarantine", ("leaver_still_in",), 3, 1, what)


def _is_drawn(row: _Row, class_id: str) -> bool:
    """A child of this class from the first day to the last, with a card."""
    is_here = row["class_id"] == class_id and row["end_on"] == ""
    return is_here and row["begin_on"] == "2025-09-01" and row["is_draw_eligible"] == "true"


def _quiet_room(clean: SampleManifest) -> str:
    """A full-day room in which nothing was planted, where there is one."""
    rooms = _read(clean, "classes", lambda row: row["session_pattern"] == "full_day")
    return min((row["class_id"] for row in rooms), key=lambda one: one in _busy_rooms(clean))


def _busy_rooms(clean: SampleManifest) -> set[str | None]:
    return {one.class_id for one in clean.situations}


def _read(clean: SampleManifest, feed: str, wanted: Callable[[_Row], bool]) -> list[_Row]:
    path = next(path for path in clean.files if path.stem == feed)
    with path.open(encoding="utf-8", newline="") as text:
        return [row for row in csv.DictReader(text) if wanted(row)]


def _draws(clean: SampleManifest, month: str) -> list[_Row]:
    """The rows of the monthly draws files whose name ends with this month (empty: all)."""
    path = next(path for path in clean.files if path.stem == "participation_draws")
    rows: list[_Row] = []
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if name.endswith(f"{month}.csv"):
                text = archive.read(name).decode("utf-8")
                rows.extend(csv.DictReader(io.StringIO(text, newline="")))
    return rows


def _write(path: Path, feed: str, rows: Iterable[_Row]) -> Path:
    names = columns(feed)
    path.write_bytes(csv_bytes(names, (tuple(row[one] for one in names) for row in rows)))
    return path
