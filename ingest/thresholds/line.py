"""Our line and how wide ranges are."""

from ingest.thresholds.kind import Threshold, share

LINE = (
    share(
        "criterion",
        0.80,
        "our line: the share a routine should reach before it counts as holding",
        "A convention. Published instruments use 70 or 80 % (Mercer, McIntosh & Hoselton 2017); "
        "one expert panel's standard setting came near 83/85/82 % for three tiers "
        "(doi 10.1177/10983007241276536).",
    ),
    Threshold(
        "ci_level",
        0.95,
        0.50,
        0.999,
        "how wide the ranges are: the level of the two-sided interval",
        "The usual level; a convention.",
    ),
    Threshold(
        "upper_level",
        0.90,
        0.50,
        0.999,
        "the one-sided level at which a value counts as below our line",
        "With 3 sessions it flags a true .84 class 4 % of the time (our simulation); a convention.",
    ),
    Threshold(
        "design_rho",
        0.074,
        0.0,
        0.9,
        "how alike looks within one visit are: 40 looks then count as about 10 independent ones",
        "Gives 1 + (m - 1) x rho; the value is our working figure for looks at one class.",
    ),
)
