"""Who did what at the desk and when: one line each, appended and never changed."""

from __future__ import annotations

import json
import os
from dataclasses import asdict, dataclass
from pathlib import Path

from app.desk.desks import Desk
from app.desk.heard import as_object

BEGUN = "begun"
ENDS = ("done", "stopped", "late", "busy", "refused")
_NAME = "desk.jsonl"
_TAIL_BYTES = 64_000


@dataclass(frozen=True)
class Line:
    """One line: an ISO moment, who, what was asked or came of it, and about what."""

    at: str
    who: str
    what: str
    about: str


def write(workspace: Path, line: Line) -> None:
    """Append one line durably. A disk that takes no line does not stop the work."""
    text = json.dumps(asdict(line), ensure_ascii=False) + "\n"
    try:
        (workspace / "logs").mkdir(exist_ok=True)
        with (workspace / "logs" / _NAME).open("a", encoding="utf-8") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
    except OSError:
        return


def latest(desk: Desk, most: int = 8) -> list[Line]:
    """The last lines, the newest first; a beginning is left out once its end is there.

    Lines that cannot be read are passed over.
    """
    try:
        with (desk.workspace / "logs" / _NAME).open("rb") as stream:
            stream.seek(max(0, stream.seek(0, os.SEEK_END) - _TAIL_BYTES))
            texts = stream.read().decode("utf-8", "replace").splitlines()
    except OSError:
        return []
    found = [line for text in texts if (line := _line(text)) is not None]
    return _without_beginnings(found[::-1])[:most]


def _without_beginnings(found: list[Line]) -> list[Line]:
    """Newest first: each end takes the one beginning before it with it."""
    kept: list[Line] = []
    ended: list[tuple[str, str]] = []
    for line in found:
        kind, _, came = line.what.partition(": ")
        if came == BEGUN and (kind, line.about) in ended:
            ended.remove((kind, line.about))
            continue
        if came in ENDS:
            ended.append((kind, line.about))
        kept.append(line)
    return kept


def _line(text: str) -> Line | None:
    told = as_object(text)
    names = ("at", "who", "what", "about")
    if not all(isinstance(told.get(name), str) for name in names):
        return None
    return Line(*(told[name] for name in names))
