"""What is handed out when a page cannot be set: one sheet that says so.

A button that hands out a file cannot say anything else, and one that does nothing says less.
"""

from __future__ import annotations

import logging
from collections.abc import Callable

from app.access import Broken, Refused, Snapshot
from app.paper import press
from app.paper.pieces import each_said
from app.text import brief

_LOG = logging.getLogger("roundelay")


def made_or_said(make: Callable[[], bytes], snapshot: Snapshot) -> bytes:
    """The page; a sheet with the reason when there is none."""
    try:
        return make()
    except (Refused, Broken, press.TooLong) as problem:
        return _sheet(str(problem), snapshot)
    except Exception:  # noqa: BLE001 - the outermost edge: a reader is told, the log has the rest
        _LOG.exception("A page could not be printed.")
        return _sheet(brief.OUR_MISTAKE, snapshot)


def _sheet(why: str, snapshot: Snapshot) -> bytes:
    told = {
        "title": brief.NOT_PRINTED,
        "heading": brief.NOT_PRINTED,
        "sentences": each_said([why, brief.WHOM_TO_TELL]),
        "mark": brief.INVENTED if snapshot.is_demo else "",
        "foot": f"Build {snapshot.build_id}",
        "points": 11,
    }
    return press.pressed("note", told, snapshot.built_at)
