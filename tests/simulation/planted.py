"""Are the planted situations found, and is the rest left in peace?

Fifty invented schools, each with a random half of the situations. One finding is a class, or a
class and routine, or a grade and routine, or an observer, once in the year.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import duckdb
import pandas as pd

from ingest.sample import PlantedSituation
from tests.dbt_project.run_dbt import run_dbt, variables
from tests.simulation.schools import KnownSchool, land_schools

AS_OF_ON = "2026-05-15"
AT_A_TIME = 10
MODELS = (
    "+fct_offer_reviews", "+fct_offer_matters", "+fct_turn_findings", "+fct_draw_audits",
    "+fct_data_offers", "+fct_observers", "+fct_coaching_outcomes", "+fct_measures",
)  # fmt: skip

# What counts as found, as keys joined by a space; the naive rule stands beside where there is one.
FOUND = {
    "lost_card": """select class_id from core.fct_turn_findings
        where check_name = 'never_drawn_in_cycle' and finding_count > 0""",
    "newcomer_never_added": """select class_id from core.fct_turn_findings
        where check_name = 'newcomer_not_added' and finding_count > 0""",
    "silent_logger": """select class_id from core.fct_data_offers
        where data_code = 'missing_logs' and is_asked""",
    "friday_back_filler": """select class_id from core.fct_data_offers
        where data_code = 'back_filled' and is_asked""",
    "low_voice_match": """select class_id || ' ' || routine_id from core.fct_offer_reviews
        where is_found and routine_id = 'voice-to-fit' and measure_name = 'voice_match'""",
    "dip_after_break": """select left(school_id, 4) || grade_code || ' ' || routine_id
        from core.fct_offer_matters where level_code = 'grade'""",
    "coached_improved": "select cycle_id from core.fct_coaching_outcomes"
    " where outcome_code = 'moved_up'",
    "coached_unmoved": "select cycle_id from core.fct_coaching_outcomes"
    " where outcome_code = 'same'",
    "harsh_observer": """select observer_id from core.fct_observers
        where measure_kind = 'moment' and reading_code = 'sees_less'""",
}
AUDITS = """select class_id from core.fct_draw_audits
    where method = 'cycle' and verdict_code = 'look_at_the_box'"""
# Every class x routine x term: the true share, what the naive rule and the reviews say of it.
LINES = """
    select
        shares.share,
        coalesce(measures.value < 0.8, false) as is_naive,
        coalesce(reviews.is_found, false) as is_found
    from shares
    left join core.fct_measures as measures
        on shares.class_id = measures.class_id and shares.routine_id = measures.routine_id
        and shares.term_id = measures.term_id and measures.level_code = 'class'
        and measures.window_code = 'term' and measures.measure_name = 'responsiveness'
    left join (
        select class_id, routine_id, term_id, bool_or(is_found) as is_found
        from core.fct_offer_reviews where measure_name = 'responsiveness'
        group by class_id, routine_id, term_id
    ) as reviews
        on shares.class_id = reviews.class_id and shares.routine_id = reviews.routine_id
        and shares.term_id = reviews.term_id
"""
BANDS = (0.0, 0.70, 0.80, 0.85, 1.0)


@dataclass(frozen=True)
class Judged:
    """`situations`: planted, found of them, found elsewhere. `bands`: by true share, each rule."""

    situations: pd.DataFrame
    bands: pd.DataFrame
    schools: int


def run(folder: Path, seeds: Sequence[int]) -> Judged:
    """Land one school a seed, build the models that look for something, and compare.

    Ten schools at a time, which is what a build on a laptop holds in memory.
    """
    parts = []
    for first in range(0, len(seeds), AT_A_TIME):
        place = folder / f"from-{first}"
        place.mkdir()
        parts.append(_run_some(place, seeds[first : first + AT_A_TIME]))
    situations = pd.concat([one.situations for one in parts])
    bands = pd.concat([one.bands for one in parts])
    return Judged(
        situations.groupby("situation", sort=False).sum(min_count=1).reset_index(),
        bands.groupby("band", observed=True).sum().reset_index(),
        sum(one.schools for one in parts),
    )


def _run_some(folder: Path, seeds: Sequence[int]) -> Judged:
    landing = folder / "landing.duckdb"
    known = land_schools(landing, seeds)
    values = variables(AS_OF_ON, school_name="A district (invented)")
    done = run_dbt(
        ["build", "--resource-type", "model", "--resource-type", "seed", "--select", *MODELS],
        landing, folder, values,
    )  # fmt: skip
    if done.returncode != 0:
        raise RuntimeError(done.stdout[-3000:])
    with duckdb.connect(str(folder / "warehouse.duckdb"), read_only=True) as connection:
        return Judged(_situations(connection, known), _bands(connection, known), len(known))


def _situations(
    connection: duckdb.DuckDBPyConnection, known: Sequence[KnownSchool]
) -> pd.DataFrame:
    found = {name: _keys(connection, query) for name, query in FOUND.items()}
    planted = {name: _planted(known, name) for name in FOUND}
    found["draw audit"] = _keys(connection, AUDITS)
    planted["draw audit"] = planted["lost_card"] | planted["newcomer_never_added"]
    rows = [(name, *_counts(planted[name], found[name], name)) for name in found]
    return pd.DataFrame(rows, columns=["situation", "planted", "found", "elsewhere"])


def _counts(planted: set[str], found: set[str], name: str) -> tuple[int, int, int | None]:
    """Planted, found of them, found where nothing was planted.

    Every coached class may move, so that there is no elsewhere for coaching.
    """
    elsewhere = None if name.startswith("coached") else len(found - planted)
    return len(planted), len(planted & found), elsewhere


def _keys(connection: duckdb.DuckDBPyConnection, query: str) -> set[str]:
    return {key for (key,) in connection.execute(query).fetchall()}


def _planted(known: Sequence[KnownSchool], name: str) -> set[str]:
    return {
        _key(school.prefix, one) for school in known for one in school.planted if one.name == name
    }


def _key(prefix: str, one: PlantedSituation) -> str:
    facts: Mapping[str, str | float] = one.facts or {}
    if one.name.startswith("coached"):
        return f"{prefix}{facts['cycle_id']}"
    if one.name == "harsh_observer":
        return f"{prefix}{facts['observer_id']}"
    if one.name == "dip_after_break":
        return f"{prefix}{one.grade_code} {one.routine_id}"
    if one.name == "low_voice_match":
        return f"{prefix}{one.class_id} {one.routine_id}"
    return f"{prefix}{one.class_id}"


def _bands(connection: duckdb.DuckDBPyConnection, known: Sequence[KnownSchool]) -> pd.DataFrame:
    shares = pd.DataFrame(
        [
            (school.prefix + one.class_id, one.routine_id, school.prefix + one.term_id, one.share)
            for school in known
            for one in school.shares
        ],
        columns=["class_id", "routine_id", "term_id", "share"],
    )
    connection.register("shares", shares)
    lines = connection.execute(LINES).df()
    lines["band"] = pd.cut(lines["share"], BANDS, right=False)
    grouped = lines.groupby("band", observed=True).agg(
        lines=("share", "size"), naive=("is_naive", "sum"), found=("is_found", "sum")
    )
    return grouped.reset_index()
