"""The clock and the computer's own time zone: read here and nowhere else."""

import os
from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, available_timezones


def now() -> datetime:
    """This moment, in UTC."""
    return datetime.now(UTC)


def day_in(zone: str, moment: datetime) -> date:
    """The calendar day of a moment in a time zone."""
    return moment.astimezone(ZoneInfo(zone)).date()


def own_zone(
    environment: Mapping[str, str] = os.environ, link: Path = Path("/etc/localtime")
) -> str:
    """The name of this computer's time zone; `UTC` where it cannot be told (as on Windows)."""
    known = available_timezones()
    named = environment.get("TZ", "").removeprefix(":")
    if named in known:
        return named
    parts = link.resolve().parts
    for start in range(1, len(parts)):
        name = "/".join(parts[start:])
        if name in known:
            return name
    return "UTC"
