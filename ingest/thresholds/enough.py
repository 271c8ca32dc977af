"""How much is enough to say something."""

from ingest.thresholds.kind import CONVENTION, count, share

ENOUGH = (
    count("min_sessions", 3, 50, "visits needed before a value is usable", CONVENTION, 1),
    count("min_days", 2, 50, "different days the visits must fall on", CONVENTION, 1),
    count(
        "solid_sessions",
        6,
        100,
        "visits from which a value counts as solid",
        "With 6 sessions a true .70 class is noticed 78 % of the time, with 3 only 55 % (our "
        "simulation).",
        1,
    ),
    count(
        "interval_sessions",
        4,
        50,
        "visits from which the range is taken over visits; below that from pooled spread",
        CONVENTION,
        2,
    ),
    share("seen_share", 0.60, "steps seen below this share make a visit thin", CONVENTION),
    share(
        "not_visible_share",
        0.25,
        "looks where the child could not be seen above this share make a visit thin",
        CONVENTION,
    ),
    count(
        "min_dimensions",
        3,
        5,
        "dimensions needed, adherence among them, before fidelity is given",
        "Of the five of Dane & Schneider 1998; how many are enough is our convention.",
        1,
    ),
    count(
        "praise_min_statements",
        30,
        1000,
        "praise and correction statements needed before their ratio is shown",
        "Our convention; no threshold for the ratio itself was found in 151 classrooms "
        "(Caldarella et al. 2020).",
        1,
    ),
    count("run_min_points", 10, 100, "weeks needed before a shift is tested for", CONVENTION, 5),
)
