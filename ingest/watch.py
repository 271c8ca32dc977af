"""Watches an inbox: takes up what lies there once it is still, and builds on a schedule.

Each look decides anew from what stands on the disk and from the clock, so that a stop, a crash or
a change of the settings needs no repair. A file that stays in the inbox after it was read (it was
refused) is left alone until it changes, or a day has passed; trouble of any other kind is met with
longer and longer pauses.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from ingest import build, intake, pointer, settings
from ingest.build import Built
from ingest.errors import Busy, Problem
from ingest.load import FileReport
from ingest.settings import Settings
from ingest.workspace import Workspace

Clock = Callable[[], datetime]
Said = Callable[[str], None]
Unforeseen = Callable[[Exception], str]
_FIRST_PAUSE, _LONGEST_PAUSE = timedelta(seconds=5), timedelta(minutes=5)
_TRIED_AGAIN = timedelta(days=1)
# A second that came before every other.
_NEVER = datetime.min.replace(tzinfo=UTC)
Mark = tuple[int, int]


@dataclass(frozen=True)
class Works:
    """What is done when there is work; tests put others in."""

    load: Callable[[list[Path], Workspace, Settings, datetime], list[FileReport]] = intake.load
    build: Callable[..., Built] = build.run


@dataclass
class Watched:
    """What is remembered from one look to the next; nothing of it must survive a stop."""

    still: dict[str, tuple[Mark, datetime]] = field(default_factory=dict)
    left: dict[str, tuple[Mark, datetime]] = field(default_factory=dict)
    tried_at: datetime = _NEVER
    pause: timedelta = timedelta()
    rest_until: datetime = _NEVER
    last_said: str = ""


def look(
    workspace: Workspace,
    seen: Watched,
    clock: Clock,
    say: Said,
    unforeseen: Unforeseen,
    works: Works | None = None,
) -> None:
    """Look once: load what is still, then build if it is time. Never raises for what it met."""
    if clock() < seen.rest_until:
        return
    works = works or Works()
    try:
        own = settings.load(workspace.settings_path)
        files = _ready(workspace, seen, own, clock())
        if files:
            _load(workspace, seen, own, files, clock, say, works)
        # The clock is asked again: a build made in the moment of its own load would look too old.
        if _is_time(workspace, seen, own, clock()):
            _build(workspace, seen, own, clock(), say, works)
        seen.pause, seen.last_said = timedelta(), ""
    except Problem as problem:
        _rest(seen, clock(), _one_line(problem), say)
    except Exception as fault:  # noqa: BLE001 - it goes on watching, whatever it met
        _rest(seen, clock(), unforeseen(fault), say)


def _ready(workspace: Workspace, seen: Watched, own: Settings, now: datetime) -> list[Path]:
    """Files that have not changed for a while, without those that were left there before."""
    marks = _marks(workspace)
    seen.still = {
        name: seen.still[name] if name in seen.still and seen.still[name][0] == mark
        else (mark, now)
        for name, mark in marks.items()
    }  # fmt: skip
    seen.left = {
        name: was
        for name, was in seen.left.items()
        if marks.get(name) == was[0] and now - was[1] < _TRIED_AGAIN
    }
    settled = timedelta(seconds=own.watch.settle_seconds)
    return [
        workspace.inbox / name
        for name, (_, since) in sorted(seen.still.items())
        if name not in seen.left and now - since >= settled
    ]


def _marks(workspace: Workspace) -> dict[str, Mark]:
    """Size and time of every file that waits; one that has just gone is not there."""
    found: dict[str, Mark] = {}
    for path in intake.in_folder(workspace.inbox):
        try:
            told = path.stat()
        except FileNotFoundError:
            continue
        found[path.name] = (told.st_size, told.st_mtime_ns)
    return found


def _load(
    workspace: Workspace,
    seen: Watched,
    own: Settings,
    files: list[Path],
    clock: Clock,
    say: Said,
    works: Works,
) -> None:
    """Load files together; if that stumbles over one of them, each by itself."""
    try:
        reports = works.load(files, workspace, own, clock())
    except (Problem, OSError):
        raise  # no file is at fault: they wait as they are
    except Exception:
        if len(files) == 1:
            _leave(workspace, seen, files, clock())
            raise
        _one_by_one(workspace, seen, own, files, clock, say, works)
        return
    _leave(workspace, seen, files, clock())
    say(_told(reports, len(files), len(seen.left)))


def _one_by_one(
    workspace: Workspace,
    seen: Watched,
    own: Settings,
    files: list[Path],
    clock: Clock,
    say: Said,
    works: Works,
) -> None:
    last: Exception | None = None
    for file in files:
        try:
            _load(workspace, seen, own, [file], clock, say, works)
        except Exception as problem:  # noqa: BLE001 - the others still have their turn
            last = problem
    if last is not None:
        raise last


def _leave(workspace: Workspace, seen: Watched, files: list[Path], now: datetime) -> None:
    """What is still there as it was read is not read again; what has changed meanwhile is."""
    marks = _marks(workspace)
    read = {file.name: seen.still[file.name][0] for file in files}
    seen.left |= {name: (mark, now) for name, mark in read.items() if marks.get(name) == mark}


def _told(reports: list[FileReport], files: int, left: int) -> str:
    kept = sum(one.accepted for one in reports)
    held = sum(one.quarantined for one in reports)
    refused = sum(one.status == "refused" for one in reports)
    rows = f"{kept} row{'' if kept == 1 else 's'} kept, {held} set aside"
    parts = [f"Read {files} file{'' if files == 1 else 's'}: {rows}"]
    if refused:
        parts.append(f"{refused} refused")
    if left:
        parts.append(f"{left} left in the inbox until replaced (roundelay check says why)")
    return ", ".join(parts)


def _is_time(workspace: Workspace, seen: Watched, own: Settings, now: datetime) -> bool:
    """After something new, at most every so often; and at each of the times of the day."""
    if not workspace.landing.is_file():
        return False
    built_at = _built_at(workspace)
    tried = max(built_at, seen.tried_at)
    zone = ZoneInfo(own.time_zone)
    today = now.astimezone(zone).date()
    moments = [datetime.combine(today, at, zone) for at in own.watch.build_at]
    if any(tried < moment <= now for moment in moments):
        return True
    every = own.watch.build_every_minutes
    if not every or now - tried < timedelta(minutes=every):
        return False
    # What is about to be taken up is to be in these figures, and not in those of an hour later.
    is_coming = any(
        name not in seen.left for name in seen.still if (workspace.inbox / name).exists()
    )
    return not is_coming and _changed_at(workspace) > built_at


def _changed_at(workspace: Workspace) -> datetime:
    """When the store was last written, to the second, as a build tells its own moment."""
    wal = workspace.landing.with_name(f"{workspace.landing.name}.wal")
    last = max(path.stat().st_mtime for path in (workspace.landing, wal) if path.exists())
    return datetime.fromtimestamp(int(last), UTC)


def _built_at(workspace: Workspace) -> datetime:
    """The moment of the newest build, shown or not: going back to an earlier one is respected."""
    names = pointer.published(workspace)
    if not names:
        return _NEVER
    text = (workspace.snapshots / names[-1] / pointer.DESCRIPTION).read_text(encoding="utf-8")
    return datetime.fromisoformat(json.loads(text)["built_at"])


def _build(
    workspace: Workspace,
    seen: Watched,
    own: Settings,
    now: datetime,
    say: Said,
    works: Works,
) -> None:
    before, seen.tried_at = seen.tried_at, now
    try:
        built = works.build(workspace, own, build.usual_day(own, now), now)
    except Busy:
        # Another command is at work: this was no try.
        seen.tried_at = before
        raise
    say(f"Built {built.build_id}, as of {built.as_of_on}: now shown")


def _rest(seen: Watched, now: datetime, words: str, say: Said) -> None:
    """Say what happened, once, and wait: twice as long each time, up to five minutes."""
    seen.pause = min(_LONGEST_PAUSE, max(_FIRST_PAUSE, seen.pause * 2))
    seen.rest_until = now + seen.pause
    if words != seen.last_said:
        say(words)
    seen.last_said = words


def _one_line(problem: Problem) -> str:
    return " ".join(str(problem).split("\n"))
