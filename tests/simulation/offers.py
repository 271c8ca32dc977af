"""How often the rule of an offer speaks, for classes whose true share is known.

All through the replayed reviews (`fct_offer_reviews`), beside the naive rule "term mean below the
line".
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import duckdb
import numpy as np
import pandas as pd

from tests.simulation.district import Truth, build, sessions

CLASSES, ROUTINES, LINE = 24, 4, 0.80
# What the classes of every school are like: true share and visits, each for a sixth of them.
KINDS = ((0.70, 3), (0.70, 6), (0.80, 3), (0.84, 3), (0.90, 3), (0.92, 6))

BEHAVIOUR = """
    select
        cells.share, cells.visits, count(*) as lines,
        avg((reviews.value < ?)::integer) as naive,
        avg((reviews.upper_one_sided < ?)::integer) as bound,
        avg(reviews.is_found::integer) as found
    from core.fct_offer_reviews as reviews
    inner join cells using (class_id, routine_id)
    where reviews.review_on = (select max(review_on) from core.fct_offer_reviews)
    group by cells.share, cells.visits
    order by cells.share, cells.visits
"""

FALSE_SHARES = """
    select
        reviews.school_id, reviews.review_on,
        count(*) filter (where reviews.is_found) as found_count,
        count(*) filter (where reviews.is_found and cells.share >= ?) as false_count,
        count(*) filter (where reviews.upper_one_sided < ?) as bound_count,
        count(*) filter (where reviews.upper_one_sided < ? and cells.share >= ?) as false_bound
    from core.fct_offer_reviews as reviews
    inner join cells using (class_id, routine_id)
    group by reviews.school_id, reviews.review_on
"""


@dataclass(frozen=True)
class Behaviour:
    """What the rule did.

    `lines`: one row a kind of class with the share of lines that each rule names. `false_share`: of
    what a review finds, the share whose truth is at or over the line, as a mean over reviews
    (nothing found counts as none false); `false_share_bound`: the same for the bound alone.
    """

    lines: pd.DataFrame
    reviews: int
    false_share: float
    false_share_bound: float


def run(folder: Path, seed: int, schools: int, share_below: float) -> Behaviour:
    """Run one term of many schools; `share_below` of their classes are truly under the line."""
    rng = np.random.default_rng(seed)
    shape = (schools, CLASSES, ROUTINES)
    kinds = _kinds(share_below)
    share = np.broadcast_to(np.array([one[0] for one in kinds])[None, :, None], shape)
    visits = np.broadcast_to(np.array([one[1] for one in kinds])[None, :, None], shape)
    truth = Truth(share=share.copy(), visits=visits.copy())
    warehouse = build(folder, truth, sessions(truth, rng), ["+fct_offer_reviews"])
    with duckdb.connect(str(warehouse), read_only=True) as connection:
        connection.register("cells", truth.cells())
        lines = connection.execute(BEHAVIOUR, [LINE, LINE]).df()
        reviews = connection.execute(FALSE_SHARES, [LINE] * 4).df()
    return Behaviour(
        lines,
        len(reviews),
        float((reviews["false_count"] / reviews["found_count"].clip(lower=1)).mean()),
        float((reviews["false_bound"] / reviews["bound_count"].clip(lower=1)).mean()),
    )


def _kinds(share_below: float) -> list[tuple[float, int]]:
    below = [one for one in KINDS if one[0] < LINE]
    others = [one for one in KINDS if one[0] >= LINE]
    count = round(CLASSES * share_below)
    return [below[place % len(below)] for place in range(count)] + [
        others[place % len(others)] for place in range(CLASSES - count)
    ]
