"""Is the p of the audit of draws even when draws go as declared?

Classes are drawn in plain Python, apart from the SQL that audits them; children are away, some of
them often.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
from scipy import stats

from tests.dbt_project.statistics.audit_worlds import (
    Room,
    in_rounds,
    p_values,
    returned,
    until_empty,
)

LEVELS = (0.05, 0.10, 0.20, 0.50)


def run(seed: int, classes: int, simulations: int) -> pd.DataFrame:
    """One row a way of drawing: share of p at or under each level, and how even it is (KS p).

    The last rows hold a fault: there the p should be small.
    """
    rng = np.random.default_rng(seed)
    room, large = Room(12, 12, 3), Room(22, 16, 11, 0.05)
    worlds = {
        "with replacement": ("simulated_returns", [returned(rng, room) for _ in range(classes)]),
        "in rounds": ("simulated_rounds", [in_rounds(rng, room, 3) for _ in range(classes)]),
        "in rounds, until the box is empty": (
            "simulated_rounds",
            [until_empty(rng, room, is_told=False) for _ in range(classes)],
        ),
        "fault: in rounds, one card lost": (
            "simulated_rounds",
            [until_empty(rng, large, is_told=False, lost=[21]) for _ in range(classes // 5)],
        ),
        "fault: with replacement, one child favoured threefold": (
            "simulated_returns",
            [returned(rng, large, [3.0] + [1.0] * 21) for _ in range(classes // 5)],
        ),
    }
    rows = []
    for name, (macro, drawn) in worlds.items():
        whole, split = p_values(macro, drawn, simulations, seed)
        shares = [float(np.mean(whole <= level)) for level in LEVELS]
        rows.append((name, len(drawn), *shares, float(stats.kstest(split, "uniform").pvalue)))
    columns = ["way", "classes", *(f"p <= {level:.2f}" for level in LEVELS), "KS p"]
    return pd.DataFrame(rows, columns=columns)
