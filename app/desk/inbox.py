"""Uploads are put into the workspace's inbox before anything is done with them.

A file is there whole or not at all: written beside, flushed, then given its name in one step. It
never takes the place of another one, and a name that came from outside never names a folder.
"""

from __future__ import annotations

import re
import threading
import unicodedata
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from app import durable
from app.desk.desks import Desk

LARGEST_MB = 100
PUT_AWAY = "put-away"
_GATE = threading.Lock()
_LONGEST = 120
_LONGEST_ENDING = 12
# Names that Windows keeps for devices, whatever ending they have.
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.I)
# Files that the command passes over, because programs leave such names behind.
_PASSED_OVER = {"thumbs.db", "desktop.ini"}


class NotKept(Exception):  # noqa: N818 - an answer to the person who sent a file
    """A file could not be kept. The message says why and what to do; nothing of it was kept."""


@dataclass(frozen=True)
class Waiting:
    """A file in the inbox: its name, how large it is and since when it lies there."""

    name: str
    size: int
    since: datetime


def safe_name(sent: str) -> str:
    """A plain name for a file, made of what a browser sent: no path, no device, never hidden."""
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", sent))[-1]
    plain = "".join(letter if letter.isalnum() or letter in " ._-()" else "_" for letter in last)
    plain = re.sub(r"\s+", " ", plain).lstrip("._ ~-").rstrip(". ")
    stem, dot, ending = plain.rpartition(".")
    if not dot or len(ending) > _LONGEST_ENDING:
        stem, ending = plain, ""
    stem = _shortened(stem.rstrip(". ") or "file", _LONGEST)
    if _DEVICES.fullmatch(stem.split(".")[0].strip()) or plain.lower() in _PASSED_OVER:
        stem = f"file-{stem}"
    return f"{stem}.{ending}" if ending else stem


def keep(desk: Desk, sent: str, content: bytes | memoryview) -> Path:
    """Put one upload into the inbox, durably; the file that now holds it.

    `NotKept` when it is too large, or when the disk does not take it.
    """
    if len(content) > LARGEST_MB * 1024 * 1024:
        raise NotKept(
            f"“{safe_name(sent)}” is larger than {LARGEST_MB} MB, the most that a browser may "
            "send. Nothing of it was kept. Load it on the school’s computer: roundelay load"
        )
    desk.inbox.mkdir(exist_ok=True)
    part = durable.beside(desk.inbox)
    try:
        durable.write(part, content)
        kept = _name_it(part, desk.inbox, safe_name(sent))
        _flush_folder(desk.inbox)
    except OSError as fault:
        raise NotKept(
            f"“{safe_name(sent)}” could not be kept: {fault.strerror or 'the disk refused it'}. "
            "Nothing of it was kept. Make room on the school’s computer, then send it again."
        ) from fault
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return kept


def waiting(desk: Desk) -> list[Waiting]:
    """What lies in the inbox, by name; what programs leave behind is passed over."""
    if not desk.inbox.is_dir():
        return []
    return [told for file in sorted(desk.inbox.iterdir()) if (told := _told(file)) is not None]


def path_of(desk: Desk, name: str) -> Path:
    """The file of that name in the inbox; `NotKept` when it is not there any more."""
    if name not in {one.name for one in waiting(desk)}:
        raise NotKept(f"“{safe_name(name)}” does not wait in the inbox any more.")
    return desk.inbox / name


def put_away(desk: Desk, name: str) -> Path:
    """Move a waiting file out of the way, into a folder of the inbox that is not loaded."""
    file = path_of(desk, name)
    home = desk.inbox / PUT_AWAY
    home.mkdir(exist_ok=True)
    try:
        moved = _name_it(file, home, name)
        file.unlink(missing_ok=True)
    except OSError as fault:
        raise NotKept(f"“{name}” could not be put away: {fault.strerror}.") from fault
    _flush_folder(home)
    _flush_folder(desk.inbox)
    return moved


def _told(file: Path) -> Waiting | None:
    if file.name.startswith((".", "~")) or file.name.lower() in _PASSED_OVER:
        return None
    try:
        facts = file.stat()
    except OSError:  # taken up this instant
        return None
    since = datetime.fromtimestamp(facts.st_mtime, UTC)
    return Waiting(file.name, facts.st_size, since) if file.is_file() else None


def _name_it(part: Path, home: Path, name: str) -> Path:
    """Give a whole file the first free name of `name`, `name-2`, ...; two at once never collide."""
    with _GATE:
        return next(wanted for wanted in _names(home, name) if _is_ours(part, wanted))


def _is_ours(part: Path, wanted: Path) -> bool:
    """Take the name unless it is taken; where disks know no links the gate keeps ours apart."""
    try:
        durable.name(part, wanted)
    except FileExistsError:
        return False
    return True


def _names(home: Path, name: str) -> Iterator[Path]:
    first = Path(name)
    yield home / name
    yield from (home / f"{first.stem}-{number}{first.suffix}" for number in count(2))


def _shortened(text: str, most: int) -> str:
    """The text cut to so many bytes of UTF-8, between two letters."""
    return text.encode("utf-8")[:most].decode("utf-8", "ignore").rstrip(". ")


def _flush_folder(folder: Path) -> None:
    """The file is there already: a folder that cannot be flushed is no reason to say it is not."""
    with suppress(OSError):
        durable.flush_folder(folder)
