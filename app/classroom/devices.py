"""Class tablets, as their teacher sees them: make a code, see what is paired, end it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, time, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from app.access import Refused
from app.classroom.bodies import NotTaken
from app.door.devices import CODE_SECONDS, SOURCE, Devices, Maker
from app.text.in_class import tablet

if TYPE_CHECKING:
    from app.classroom.visits import Asker

_LAST = time(23, 59)


def answer(
    visit: Asker, devices: Devices | None, body: Mapping[str, Any] | None, now: float
) -> dict[str, Any]:
    """The tablets of the class, after what was asked for; `Refused` for all but its teacher."""
    if visit.class_id is None or visit.source == SOURCE or devices is None or not visit.source:
        raise Refused("A class tablet is paired by the teacher of the class, signed in.")
    code = None
    if body is not None:
        code = _change(visit, devices, body, now)
    zone = zone_of(visit.snapshot.time_zone)
    return {
        "code": code,
        "minutes": int(CODE_SECONDS // 60),
        "devices": [
            {
                "device_id": one.device_id,
                "words": tablet(
                    _clock(one.begun_at, zone), _clock(one.ends_at, zone), one.maker_name
                ),
            }
            for one in devices.of_class(visit.owner, now)
        ],
    }


def _change(visit: Asker, devices: Devices, body: Mapping[str, Any], now: float) -> str | None:
    if body.get("make") is True:
        maker = Maker(visit.subject, visit.shown_name, visit.owner, visit.person_id)
        return devices.new_code(maker, now, end_of_day(now, zone_of(visit.snapshot.time_zone)))
    if isinstance(body.get("end"), str):
        devices.end(body["end"], visit.owner)
        return None
    raise NotTaken(422, "This cannot be read.")


def end_of_day(now: float, zone: ZoneInfo) -> float:
    """The next 23:59 of the school's clock, in seconds since 1970."""
    here = datetime.fromtimestamp(now, UTC).astimezone(zone)
    end = datetime.combine(here.date(), _LAST, zone)
    if end <= here:
        end = datetime.combine(here.date() + timedelta(days=1), _LAST, zone)
    return end.timestamp()


def zone_of(name: str) -> ZoneInfo:
    """A time zone by its name; UTC for one that this machine does not know."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return ZoneInfo("UTC")


def _clock(at: float, zone: ZoneInfo) -> str:
    return f"{datetime.fromtimestamp(at, UTC).astimezone(zone):%H:%M}"
