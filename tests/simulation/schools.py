"""Many invented schools side by side in one landing store, each from a seed of its own.

Every school holds a random half of the planted situations. Keys get the school's prefix; the
routines are the same everywhere, as in a district that agreed on them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from pathlib import Path

import duckdb
import numpy as np

from ingest.sample import PlantedSituation, Situations, TrueShare
from ingest.sample.options import FULL, Size
from ingest.sample.planted import planted_situations
from ingest.sample.school import make_school
from ingest.sample.truth import true_shares
from ingest.sample.write import columns, csv_bytes
from tests.dbt_project.landing import contracts, make_landing

SHARED_FEEDS = frozenset({"routines", "routine_steps"})


@dataclass(frozen=True)
class KnownSchool:
    """What was planted in one school and what is true of it; keys as in the landing store."""

    prefix: str
    seed: int
    planted: tuple[PlantedSituation, ...]
    shares: tuple[TrueShare, ...]


def land_schools(landing: Path, seeds: Sequence[int], size: Size = FULL) -> list[KnownSchool]:
    """Make the store and fill it with one school a seed; what is known of each."""
    make_landing(landing, {})
    known = []
    for place, seed in enumerate(seeds):
        prefix = f"s{place:02d}-"
        school = make_school(seed, size, half_of_the_situations(seed))
        with duckdb.connect(str(landing)) as connection:
            for feed, rows in school.records.items():
                if rows and not (place and feed in SHARED_FEEDS):
                    path = landing.with_name(f"{feed}.csv")
                    path.write_bytes(csv_bytes(columns(feed), rows))
                    connection.execute(_insert(feed, prefix, path))
        known.append(
            KnownSchool(
                prefix,
                seed,
                planted_situations(school.world, school.cast, school.cycles),
                true_shares(school.world, school.truth),
            )
        )
    return known


def half_of_the_situations(seed: int) -> Situations:
    """Each situation with chance one half, by the seed."""
    coins = np.random.default_rng([seed, 20251125]).random(len(fields(Situations))) < 0.5
    return Situations(
        **{one.name: bool(coin) for one, coin in zip(fields(Situations), coins, strict=True)}
    )


def _insert(feed: str, prefix: str, path: Path) -> str:
    """Copy one file into the store with the school's prefix before every key of its own."""
    chosen = ", ".join(_prefixed(feed, prefix))
    return (
        f"insert into feed.{feed} by name select {chosen}"
        f" from read_csv('{path}', header=true, all_varchar=true)"
    )


def _prefixed(feed: str, prefix: str) -> Iterator[str]:
    for field in contracts()[feed]["schema"]["fields"]:
        name = field["name"]
        if field.get("private") or name not in columns(feed):
            continue
        if feed == "school_days" and name == "applies_to":
            # A grade or a star stays; a class is a key.
            own = f"'{prefix}' || {name}"
            yield f"case when {name} like 'qb-%' then {own} else {name} end as {name}"
        elif field.get("key") and name != "routine_id":
            yield f"'{prefix}' || replace({name}, ';', ';{prefix}') as {name}"
        else:
            yield f'"{name}"'
