"""How often the ranges of the long table hold the truth.

Shares of single classes from 2 to 10 visits, through `fct_measures`, so that every way in which a
range is made is used: pooled spread below 4 visits, own spread from there on.
"""

from __future__ import annotations

from pathlib import Path

import duckdb
import numpy as np
import pandas as pd

from tests.simulation.district import Truth, build, sessions

VISITS = (2, 3, 4, 6, 10)
LOW, HIGH = 0.55, 0.95


def run(folder: Path, seed: int, schools: int, classes: int) -> pd.DataFrame:
    """One row a number of visits: `cells`, `held` (share of ranges with the truth in), `width`."""
    rng = np.random.default_rng(seed)
    shape = (schools, classes, 6)
    visits = np.broadcast_to(
        np.array(VISITS)[np.arange(classes) % len(VISITS)][None, :, None], shape
    ).copy()
    truth = Truth(share=rng.uniform(LOW, HIGH, shape), visits=visits)
    warehouse = build(folder, truth, sessions(truth, rng), ["+fct_measures"])
    with duckdb.connect(str(warehouse), read_only=True) as connection:
        ranges = connection.execute(
            "select class_id, routine_id, low, high from core.fct_measures"
            " where level_code = 'class' and window_code = 'term' and routine_id <> '*'"
            " and measure_name = 'responsiveness'"
        ).df()
    joined = truth.cells().merge(ranges, on=["class_id", "routine_id"], validate="one_to_one")
    joined["held"] = (joined["low"] <= joined["share"]) & (joined["share"] <= joined["high"])
    joined["width"] = joined["high"] - joined["low"]
    grouped = joined.groupby("visits").agg(
        cells=("held", "size"), held=("held", "mean"), width=("width", "mean")
    )
    return grouped.reset_index()
