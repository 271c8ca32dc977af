"""Where a device and the hat of its class meet."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from random import SystemRandom
from typing import TYPE_CHECKING, Any

from app import access
from app.access import Refused
from app.classroom.bodies import NotTaken
from app.classroom.hat_exchange import end, exchange
from app.classroom.hat_messages import NoMessage, message_of
from app.classroom.hat_store import FILE, HatStore
from app.classroom.pack_hat import waiting

if TYPE_CHECKING:
    from app.classroom.visits import Asker

_LUCK = SystemRandom()


def answer(visit: Asker, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
    """Take a message of a device in and answer it; or end a device, on a teacher's word.

    `Refused` for whoever has no class, `NotTaken` for what is no message or cannot be kept.
    """
    sent = dict(body or {})
    if visit.role != "teacher" or visit.class_id is None:
        raise Refused("Names are drawn by the teacher of the class.")
    try:
        store = _store(visit.workspace)
        if "ends" in sent:
            return _ended(store, visit, sent["ends"])
        message = message_of(sent)
        round_number, children = waiting(visit.scope)
        now = access.now().timestamp()
        return exchange(store, visit.class_id, message, children, round_number, now, _LUCK)
    except NoMessage as fault:
        raise NotTaken(422, f"This cannot be read: {fault}.") from fault
    except (sqlite3.Error, OSError) as fault:
        raise NotTaken(507, "The school’s computer could not write this down just now.") from fault


def _ended(store: HatStore, visit: Asker, device: object) -> dict[str, Any]:
    if visit.source == "device":
        raise Refused("The teacher of the class ends a tablet, on a device of her own.")
    is_known = isinstance(device, str) and end(store, str(visit.class_id), device)
    if not is_known:
        raise NotTaken(404, "This class knows no such device.")
    return {"ended": device}


@lru_cache(maxsize=8)
def _store(workspace: Path) -> HatStore:
    return HatStore(workspace / FILE)
