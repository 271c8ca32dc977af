"""How things truly are in each room, before anybody looks: the shares every visit is drawn from."""

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from ingest.sample.manifest import TrueShare
from ingest.sample.options import FIRST_ON, stream
from ingest.sample.routines import ROUTINE_IDS
from ingest.sample.school_year import TERMS, break_returns
from ingest.sample.situations import (
    COACHED_GAIN,
    COACHED_ROUTINE,
    DIP_ROUTINE,
    DIP_SIZE,
    LOW_VOICE_ROUTINE,
    LOW_VOICE_SIZE,
    Cast,
    dip_weight,
)
from ingest.sample.world import World

RHO = 0.07  # clustering of looks within a visit; makes the occasion SD about .10 near .80
_BASE, _GROWTH_A_MONTH, _LOWEST, _HIGHEST = 0.83, 0.008, 0.30, 0.975
_COACHED_START = 0.62
_ROUTINE_EFFECTS = (0.0, -0.02, 0.01, 0.02, -0.01, 0.03, 0.0, 0.0)


@dataclass(frozen=True)
class Truth:
    """`effects[room, routine]` on the share as agreed; `coached_from` by (room, routine)."""

    effects: npt.NDArray[np.float64]
    cast: Cast
    recent_on: date
    coached_from: dict[tuple[int, str], tuple[date, float]]

    def share(self, room: int, routine_id: str, day: date) -> float:
        """The true share of moments as agreed in this room on this day."""
        months = (day - FIRST_ON).days / 30.4
        value = _BASE + _GROWTH_A_MONTH * months
        value += float(self.effects[room, ROUTINE_IDS.index(routine_id)]) + _after_break(day)
        value += self._planted(room, routine_id, day)
        return min(_HIGHEST, max(_LOWEST, value))

    def _planted(self, room: int, routine_id: str, day: date) -> float:
        shift = 0.0
        if room in self.cast.dip_rooms and routine_id == DIP_ROUTINE:
            shift += DIP_SIZE * dip_weight(day)
        is_low = room == self.cast.low_voice_match and routine_id == LOW_VOICE_ROUTINE
        if is_low and day >= self.recent_on:
            shift += LOW_VOICE_SIZE
        start, gain = self.coached_from.get((room, routine_id), (day, 0.0))
        return shift + (gain if day >= start else 0.0)


def make_truth(
    world: World, cast: Cast, coached_from: dict[tuple[int, str], tuple[date, float]]
) -> Truth:
    """Draw class effects (SD .035), routine effects and their joint effects (SD .02).

    `coached_from` gives the first coached day and the gain for each room and routine in coaching.
    The low-voice room is set to the school's usual share before its weeks begin, and the two
    planted coached rooms to a lower one, so that what is planted is what is found.
    """
    rng = stream(world.seed, "truth")
    rooms = rng.normal(0.0, 0.035, size=(len(world.rooms), 1))
    joint = rng.normal(0.0, 0.02, size=(len(world.rooms), len(ROUTINE_IDS)))
    effects = rooms + np.array(_ROUTINE_EFFECTS) + joint
    if cast.low_voice_match is not None:
        effects[cast.low_voice_match, ROUTINE_IDS.index(LOW_VOICE_ROUTINE)] = 0.0
    for room in (cast.coached_improved, cast.coached_unmoved):
        if room is not None:
            effects[room, ROUTINE_IDS.index(COACHED_ROUTINE)] = _COACHED_START - _BASE
    return Truth(effects, cast, world.size.recent_on, coached_from)


def true_shares(world: World, truth: Truth) -> tuple[TrueShare, ...]:
    """The mean true share over each term's days in session, by room and routine."""
    shares: list[TrueShare] = []
    for term_id, _, first_on, last_on in TERMS:
        for room, one in enumerate(world.rooms):
            days = [world.day(d) for d in world.calendar.open_days(room, first_on, last_on)]
            for routine_id in ROUTINE_IDS if days else ():
                share = float(np.mean([truth.share(room, routine_id, day) for day in days]))
                shares.append(TrueShare(one.room_id, routine_id, term_id, round(share, 4)))
    return tuple(shares)


def coached_gain(cast: Cast, room: int, rng: np.random.Generator) -> float:
    """What coaching truly brings: planted for two rooms, otherwise drawn (.02 to .12)."""
    if room == cast.coached_improved:
        return COACHED_GAIN
    if room == cast.coached_unmoved:
        return 0.0
    return float(rng.uniform(0.02, 0.12))


def _after_break(day: date) -> float:
    """A small dip in the first days back, half gone after a school week (invented, no source)."""
    back = [(day - first_back).days for first_back in break_returns() if day >= first_back]
    return -0.06 * 0.5 ** (min(back) / 7) if back else 0.0
