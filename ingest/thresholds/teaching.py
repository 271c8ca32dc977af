"""Lessons, visits and draws."""

from ingest.thresholds.kind import CONVENTION, PRACTICE, Threshold, count, share

TEACHING = (
    count("last_days", 20, 100, "days in session in the short window", CONVENTION, 1),
    count("newcomer_days", 3, 30, "school days in which a newcomer is reached", CONVENTION, 1),
    count("break_weekdays", 5, 30, "weekdays without school that make a break", CONVENTION, 1),
    count("late_days", 10, 100, "school days after which an entry counts as late", CONVENTION, 1),
    share(
        "part_delivered_share",
        0.50,
        "what a partly given lesson counts as when its steps were not noted",
        CONVENTION,
    ),
    Threshold(
        "think_seconds",
        3.0,
        0.0,
        60.0,
        "seconds between question and name that count as time to think",
        "About 1 s is usual, gains at 3 s and more (Rowe 1972-1987).",
    ),
    Threshold(
        "ready_censor_seconds",
        300.0,
        1.0,
        3600.0,
        "seconds after which a class not yet ready is counted as 'longer than this'",
        CONVENTION,
    ),
    count("voice_tolerance", 1, 4, "voice levels either side that still match", PRACTICE),
)
