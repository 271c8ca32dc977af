"""When two observers see the same thing, and how much a score then rests on."""

from ingest.thresholds.kind import CONVENTION, count, share

OBSERVERS = (
    share(
        "kappa_line",
        0.60,
        "agreement beyond chance below this holds the measures made of it",
        "Kratochwill et al. 2010 ask for .60 of kappa or .80 of agreement (partly from memory).",
    ),
    share(
        "agreement_line",
        0.80,
        "agreement asked for where kappa has no answer because all is one and the same",
        "Kratochwill et al. 2010 ask for .80 of agreement or .60 of kappa (partly from memory).",
    ),
    share(
        "double_watched_line",
        0.20,
        "share of visits that two should watch together",
        "Kratochwill et al. 2010: a second observer on 20 % of sessions.",
    ),
    count(
        "agreement_min_looks",
        30,
        1000,
        "compared looks needed before agreement is judged",
        CONVENTION,
        2,
    ),
    count(
        "agreement_min_pairs",
        3,
        100,
        "visits by two observers needed before agreement is judged",
        CONVENTION,
        1,
    ),
    count(
        "observer_min_people",
        3,
        50,
        "observers a school needs before anything is told about one of them",
        "With two, what is said of one is said of the other; a convention.",
        3,
    ),
    share(
        "lean_line",
        0.05,
        "how far an observer must lie from the middle one before it is said",
        CONVENTION,
    ),
    count(
        "drift_min_pairs",
        6,
        100,
        "visits by two an observer needs before a drift over time is looked for",
        CONVENTION,
        3,
    ),
    count(
        "dependability_sessions",
        30,
        1000,
        "visits a school needs before its own variances take the place of published ones",
        CONVENTION,
        10,
    ),
    share(
        "dependability_target",
        0.80,
        "dependability that the number of visits needed is worked out for",
        CONVENTION,
    ),
)
