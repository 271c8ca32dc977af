"""How change over time is read."""

from ingest.thresholds.kind import Threshold, count

CHANGE = (
    Threshold(
        "ewma_weight",
        0.2,
        0.01,
        1.0,
        "share of the newest visit in the moving average of a class",
        "0.2 to 0.3 is usual (NIST/SEMATECH e-Handbook 6.3.2.4, from memory).",
    ),
    count(
        "slope_days",
        10,
        200,
        "school days over which a trend of visits is told",
        "Two weeks of school; our own convention.",
        1,
    ),
)
