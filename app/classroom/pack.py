"""The pack: everything that the page needs for a day without a net, and nothing of other classes.

Names are in it for the class of the visit alone; the support team gets classes and no child.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

from app import access
from app.access import Refused
from app.classroom.devices import zone_of
from app.classroom.pack_class import class_part
from app.classroom.pack_family import family_part
from app.classroom.pack_hat import hat_part
from app.classroom.pack_looks import looks_part
from app.classroom.pack_plan import plan_part
from app.classroom.pack_routines import routines_part
from app.classroom.pack_sent import sent_part
from app.classroom.pack_team import team_part
from app.door.devices import SOURCE
from app.queries import room, school

if TYPE_CHECKING:
    from app.classroom.visits import Asker

WAIT_SECONDS = "think_seconds"


def pack(visit: Asker) -> dict[str, Any]:
    """The pack of a visit, as JSON can hold it."""
    snapshot, scope = visit.snapshot, visit.scope
    school_id, as_of = _school(visit)
    own = class_part(scope) if visit.class_id else team_part(scope, school_id)
    day = as_of if snapshot.is_demo else today(visit)
    return {
        "build": snapshot.build_id,
        "built_at": snapshot.built_at.isoformat(),
        "today": day.isoformat(),
        "is_demo": snapshot.is_demo,
        "time_zone": snapshot.time_zone,
        "role": visit.role,
        "owner": visit.owner,
        "self": visit.self_key,
        "who": visit.shown_name or None,
        "is_paired": visit.source == SOURCE,
        "until": visit.until or None,
        "wait_seconds": school.setting(scope, WAIT_SECONDS),
        **_pairing(visit),
        "routines": routines_part(scope, school_id),
        "sent": sent_part(visit),
        **plan_part(visit, day),
        **looks_part(visit, school_id),
        **family_part(visit, school_id, day),
        **(hat_part(scope) if visit.class_id else {}),
        **own,
    }


def today(visit: Asker) -> date:
    """The day of the school's clock."""
    return access.now().astimezone(zone_of(visit.snapshot.time_zone)).date()


def _school(visit: Asker) -> tuple[str, date]:
    rows = school.schools(visit.scope)
    if visit.class_id is not None and len(card := room.card(visit.scope)):
        rows = rows[rows["school_id"] == card.iloc[0]["school_id"]]
    if rows.empty:
        raise Refused("There is no school in the current build.")
    first = rows.iloc[0]
    return str(first["school_id"]), first["as_of_on"].date()


def _pairing(visit: Asker) -> dict[str, Any]:
    """Whether this visit may lend a tablet its class, or why not."""
    if visit.class_id is None:
        words = "A class tablet is paired by the teacher of the class."
    elif visit.source == SOURCE:
        words = "This tablet is paired until this evening. Its teacher can end that on her device."
    elif not visit.source:
        words = "Without a sign-in this page is for this machine only, so no tablet can be paired."
    else:
        return {"can_pair": True, "why_no_pairing": None}
    return {"can_pair": False, "why_no_pairing": words}
