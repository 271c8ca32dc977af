"""What a caller may choose: the seed, how much of the school, and which situations are planted.

Every part of the generator draws from its own named stream, so that switching one situation off
leaves the random numbers of the other parts as they were.
"""

from dataclasses import dataclass, fields
from datetime import date, timedelta
from zlib import crc32

import numpy as np

SCHOOL_ID = "quillbrook"
SCHOOL_NAME = "Quillbrook Primary (invented)"
TIME_ZONE = "America/New_York"
FIRST_ON = date(2025, 9, 1)
LAST_ON = date(2026, 6, 19)
AS_OF_ON = date(2026, 5, 15)
DEFAULT_SEED = 20260515
REWORDED_ON = date(2026, 2, 23)


@dataclass(frozen=True)
class Size:
    """How much of the invented school is written.

    `room_ids` empty means all 22 rooms; nothing is written that happened after `as_of_on`.
    `visits_per_room` counts visits to the room, a visit by two observers once.
    """

    room_ids: tuple[str, ...] = ()
    as_of_on: date = AS_OF_ON
    visits_per_room: int = 35
    draw_day_share: float = 0.82
    coaching_cycles: int = 10

    def __post_init__(self) -> None:
        """Refuse an as-of date before the seventh week or after the school year."""
        if not FIRST_ON + timedelta(weeks=6) <= self.as_of_on <= LAST_ON:
            raise ValueError(f"as_of_on must lie from week 7 to the last day, not {self.as_of_on}")

    @property
    def recent_on(self) -> date:
        """The Monday four weeks before the as-of week: recent situations start here."""
        monday = self.as_of_on - timedelta(days=self.as_of_on.weekday())
        return monday - timedelta(weeks=4)


FULL = Size()
SMALL = Size(
    room_ids=("qb-rm01", "qb-rm02", "qb-rm12", "qb-rm14"),
    as_of_on=date(2025, 12, 19),
    visits_per_room=16,
    coaching_cycles=1,
)


@dataclass(frozen=True)
class Situations:
    """Which named situations the school must contain; all of them unless switched off."""

    lost_card: bool = True
    newcomer_never_added: bool = True
    silent_logger: bool = True
    friday_back_filler: bool = True
    low_voice_match: bool = True
    thin_class: bool = True
    coached_improved: bool = True
    coached_unmoved: bool = True
    dip_after_break: bool = True
    harsh_observer: bool = True

    @classmethod
    def none(cls) -> "Situations":
        """A school in which nothing was planted: for studies of false alarms."""
        return cls(**{one.name: False for one in fields(cls)})


def stream(seed: int, part: str) -> np.random.Generator:
    """An independent generator of random numbers for one named part of the school."""
    return np.random.Generator(np.random.PCG64([seed, crc32(part.encode("utf-8"))]))
