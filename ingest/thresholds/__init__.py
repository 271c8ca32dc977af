"""Every number that a rule or a measure depends on: name, default, allowed range, source.

The defaults are conventions, not truths: a school may set its own in `roundelay.toml`. They reach
the models as the dbt variable `thresholds`; no model carries a number of its own.
"""

from collections.abc import Mapping

from ingest.thresholds.change import CHANGE
from ingest.thresholds.enough import ENOUGH
from ingest.thresholds.fidelity import FIDELITY
from ingest.thresholds.intake import INTAKE
from ingest.thresholds.kind import Threshold
from ingest.thresholds.line import LINE
from ingest.thresholds.observers import OBSERVERS
from ingest.thresholds.offers import OFFERS
from ingest.thresholds.pooling import POOLING
from ingest.thresholds.small import SMALL
from ingest.thresholds.teaching import TEACHING
from ingest.thresholds.turns import TURNS

__all__ = ["THRESHOLDS", "Threshold", "defaults"]

_ALL = (
    *LINE,
    *ENOUGH,
    *TEACHING,
    *OFFERS,
    *SMALL,
    *INTAKE,
    *TURNS,
    *OBSERVERS,
    *FIDELITY,
    *CHANGE,
    *POOLING,
)
THRESHOLDS: Mapping[str, Threshold] = {threshold.name: threshold for threshold in _ALL}


def defaults() -> dict[str, float]:
    """Every threshold at its default; whole numbers as `int`."""
    return {one.name: int(one.default) if one.is_whole else one.default for one in _ALL}
