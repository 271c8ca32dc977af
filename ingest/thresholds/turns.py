"""Turns and the audit of draws."""

from ingest.thresholds.kind import CONVENTION, Threshold, count, share

TURNS = (
    count(
        "audit_draws",
        999,
        9999,
        "simulations of a class's draws that a first look found unusual",
        "The smallest p is then 1 in 1,000; a convention.",
        99,
    ),
    count(
        "audit_first_draws",
        49,
        999,
        "simulations of every class's draws in the first look",
        "The smallest p is then 1 in 50; a convention that keeps the build short.",
        19,
    ),
    share(
        "audit_first_p",
        0.20,
        "p of the first look up to which the full number of simulations is run",
        CONVENTION,
    ),
    Threshold(
        "audit_level",
        0.01,
        0.0001,
        0.2,
        "p up to which draws are worth a look at the box",
        "In a school of 22 classes and three terms luck alone then gives less than one a year.",
    ),
    count("audit_min_turns", 40, 1000, "turns needed before draws are audited", CONVENTION, 1),
    count("audit_seed", 2025, 2147483646, "where the simulations begin", "Any number will do."),
    share(
        "queue_passed_share",
        0.10,
        "share of queue turns that may pass over somebody who has waited longer",
        CONVENTION,
    ),
    Threshold(
        "wait_chance",
        0.01,
        0.0001,
        0.5,
        "chance that luck alone lets anybody wait longer than a long wait, cards going back",
        CONVENTION,
    ),
)
