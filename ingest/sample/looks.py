"""What was seen in the visits: looks, events, seconds to ready, steps, ratings, voices, products.

Both observers of a pair see the same visit; each sees one look in ten in an own way, and a harsh
observer's share as agreed lies lower by a fixed amount.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from ingest.sample.options import stream
from ingest.sample.routines import live_version
from ingest.sample.situations import HARSHNESS
from ingest.sample.truth import RHO, Truth
from ingest.sample.visits import Visit
from ingest.sample.world import World

_OWN_VIEW, _SEVERITY_SD = 0.10, 0.012
# Two who watch together rate the same visit: most of a rating's spread is theirs in common.
_RATING_VISIT_SD, _RATING_OWN_SD = 0.55, 0.12
_EVENTS = (
    ("opportunity_individual", 0.36),
    ("opportunity_group", 0.33),
    ("praise_specific", 0.24),
    ("praise_general", 0.30),
    ("correction_calm", 0.14),
    ("correction_harsh", 0.012),
)
_RATED = ("explained", "shown", "practised", "feedback", "overall")
_CENSORED_AT = 300
_Row = tuple[str, str, float | int | None, int | None, str | None, float | int | None]


@dataclass(frozen=True)
class _Seen:
    """What truly happened in one visit, before each observer writes it down."""

    share: float
    chance: npt.NDArray[np.float64]
    seats: list[str]
    hidden: npt.NDArray[np.float64]
    row_type: str
    shared_rows: list[_Row]


def row_records(world: World, truth: Truth, visits: list[Visit]) -> list[tuple[object, ...]]:
    """The observation_rows feed, numbered from 1 within each session."""
    rng = stream(world.seed, "looks")
    severity = _severities(world, truth, rng)
    pace = rng.lognormal(0, 0.25, size=len(world.rooms)).tolist()
    rows: list[tuple[object, ...]] = []
    for visit in visits:
        seen = _happened(world, truth, visit, pace[visit.room], rng)
        for key, observer in zip(visit.keys, visit.observers, strict=True):
            written = _written(visit, seen, severity.get(observer, 0.0), rng)
            rows.extend((key, number, *row) for number, row in enumerate(written, start=1))
    return rows


def _severities(world: World, truth: Truth, rng: np.random.Generator) -> dict[int, float]:
    """Each observer's own lean; the planted harsh observer's is fixed."""
    observers = [*world.people.staff_with("coach"), *world.people.staff_with("leader")]
    lean = dict(
        zip(observers, rng.normal(0, _SEVERITY_SD, size=len(observers)).tolist(), strict=True)
    )
    if truth.cast.harsh_observer is not None:
        lean[truth.cast.harsh_observer] = HARSHNESS
    return lean


def _happened(
    world: World, truth: Truth, visit: Visit, pace: float, rng: np.random.Generator
) -> _Seen:
    """Draw the occasion (beta around the true share) and everything both observers can see."""
    mean = truth.share(visit.room, visit.routine_id, world.day(visit.day))
    spread = 1 / RHO - 1
    share = float(rng.beta(mean * spread, (1 - mean) * spread))
    looks = visit.minutes * 60 // visit.interval_seconds
    places = world.rooms[visit.room].places
    first = int(rng.integers(places))
    shared = [
        *_events(visit, pace, rng),
        *_latencies(world, visit, share, rng),
        *_steps(world, visit, share, rng),
        *_voices(visit, share, rng),
        *_products(visit, share, rng),
    ]
    return _Seen(
        share=share,
        chance=rng.random(looks),
        seats=[str((first + 5 * number) % places + 1) for number in range(looks)],
        hidden=rng.random(looks),
        row_type="interval" if rng.random() < 0.12 else "moment",
        shared_rows=shared,
    )


def _written(
    visit: Visit, seen: _Seen, severity: float, rng: np.random.Generator
) -> Iterator[_Row]:
    """One observer's rows: own looks and ratings, and the shared rows that were not missed."""
    looks = len(seen.seats)
    chance = np.where(rng.random(looks) < _OWN_VIEW, rng.random(looks), seen.chance)
    share = min(0.985, max(0.02, seen.share + severity))
    for number, (seat, look, hidden) in enumerate(
        zip(seen.seats, chance.tolist(), seen.hidden.tolist(), strict=True), start=1
    ):
        at = number * visit.interval_seconds
        yield (seen.row_type, _look_code(look, hidden, share), None, None, seat, at)
    missed = (rng.random(len(seen.shared_rows)) < 0.06).tolist()
    for row, is_missed in zip(seen.shared_rows, missed, strict=True):
        if not (is_missed and row[0] == "event"):
            yield ("step", "not_seen", *row[2:]) if is_missed and row[0] == "step" else row
    own = rng.normal(0.0, _RATING_OWN_SD, size=len(_RATED)).tolist()
    for code, noise, chance_of_visit in zip(_RATED, own, seen.chance.tolist(), strict=False):
        impression = -_RATING_VISIT_SD * NormalDist().inv_cdf(chance_of_visit)
        value = min(3, max(0, round(3 * share + impression + noise)))
        yield ("rating", code, value, None, None, None)


def _look_code(look: float, hidden: float, share: float) -> str:
    if hidden > 0.96:
        return "out_of_room" if hidden > 0.99 else "not_visible"
    if look >= share:
        return "not_expected"
    return "accommodated" if look < 0.04 * share else "expected"


def _events(visit: Visit, pace: float, rng: np.random.Generator) -> list[_Row]:
    """What the teacher did, in order of time; not every visit counts it."""
    if visit.routine_id != "fair-turns" and rng.random() > 0.7:
        return []
    found: list[tuple[int, str]] = []
    for code, rate in _EVENTS:
        count = int(rng.poisson(rate * pace * visit.minutes))
        found.extend((int(at), code) for at in rng.integers(5, visit.minutes * 60, size=count))
    return [("event", code, None, None, None, at) for at, code in sorted(found)]


def _latencies(world: World, visit: Visit, share: float, rng: np.random.Generator) -> list[_Row]:
    """Seconds until the class was ready, for routines that set a target."""
    target = live_version(visit.routine_id, world.day(visit.day)).target_seconds
    if target is None:
        return []
    usual = min(target, 120) * (1.75 - share)
    rows: list[_Row] = []
    for number, seconds in enumerate(rng.lognormal(np.log(usual), 0.5, size=2).tolist()):
        at = 30 + number * 240
        is_late = seconds >= _CENSORED_AT
        value = _CENSORED_AT if is_late else round(seconds)
        rows.append(("latency", "censored" if is_late else "ready", value, None, None, at))
    return rows


def _steps(world: World, visit: Visit, share: float, rng: np.random.Generator) -> list[_Row]:
    """Each step of the wording that held on the day, once."""
    routine = live_version(visit.routine_id, world.day(visit.day))
    done = min(0.97, share + 0.05)
    codes = ("done", "not_done", "not_applicable", "not_seen")
    picks = rng.choice(4, size=len(routine.steps), p=(0.96 * done, 0.96 * (1 - done), 0.02, 0.02))
    return [
        ("step", codes[pick], None, number, None, None)
        for number, pick in enumerate(picks.tolist(), start=1)
    ]


def _voices(visit: Visit, share: float, rng: np.random.Generator) -> list[_Row]:
    """Readings of the voice level beside the expected one; too loud more often than too quiet."""
    if visit.voice_level is None:
        return []
    is_about_voice = visit.routine_id == "voice-to-fit"
    count, match = (12, share) if is_about_voice else (4, min(0.97, share + 0.05))
    rows: list[_Row] = []
    for number, chance in enumerate(rng.random(count).tolist(), start=1):
        off = 0 if chance < match else (1 if chance < match + 0.7 * (1 - match) else -1)
        level = visit.voice_level + off
        level = abs(level) if level < 0 else min(level, 4)
        at = number * visit.minutes * 60 // (count + 1)
        rows.append(("voice", "observed", level, None, None, at))
    return rows


def _products(visit: Visit, share: float, rng: np.random.Generator) -> list[_Row]:
    """Things that are in place afterwards, for the tidy finish."""
    if visit.routine_id != "tidy-finish":
        return []
    return [
        ("product", "present" if chance < share + 0.05 else "absent", None, None, None, None)
        for chance in rng.random(3).tolist()
    ]
