"""When help is offered."""

from ingest.thresholds.kind import CONVENTION, count, share

OFFERS = (
    count("offer_capacity", 4, 100, "hands the team can offer in one review", CONVENTION),
    count(
        "offer_signs", 2, 10, "signs needed, unless one lasts, before help is offered", CONVENTION
    ),
    share(
        "offer_false_share",
        0.10,
        "share of offers in one review that may be due to luck",
        "Benjamini & Hochberg 1995 gives the method; the level is a convention.",
    ),
    count(
        "review_days", 14, 90, "days from one review to the next", "Teams meet every 2-4 weeks.", 1
    ),
    share(
        "grade_matter_share",
        0.50,
        "share of a grade's classes that makes it a matter of the grade",
        CONVENTION,
    ),
    count(
        "grade_matter_classes", 3, 50, "classes a grade needs for that to be asked", CONVENTION, 1
    ),
    share(
        "school_matter_share",
        0.30,
        "share of the school's classes that makes it a matter of the school",
        CONVENTION,
    ),
    count(
        "offer_spread_df",
        8,
        1000,
        "degrees of freedom that the school's spread between visits counts for beside the class's",
        "Chosen by simulation; see decisions/0090.",
        1,
    ),
    count(
        "offer_quiet_visits",
        3,
        20,
        "visits without a run under the line, once back at it, after which an offer closes",
        CONVENTION,
        1,
    ),
    count(
        "teacher_first_days",
        2,
        20,
        "school days for which a class's teacher sees an offer before the team does",
        CONVENTION,
        1,
    ),
    count(
        "offer_rest_days",
        42,
        366,
        "days for which a declined offer rests, and a closed one stays listed",
        CONVENTION,
        1,
    ),
    count(
        "offer_rest_visits",
        3,
        50,
        "new visits, under the line on average, that end the rest of a declined offer",
        CONVENTION,
        1,
    ),
    count(
        "offer_follow_up_days",
        21,
        180,
        "days after a meeting that are suggested for coming back to a decision",
        CONVENTION,
        1,
    ),
    share(
        "data_missing_share",
        0.50,
        "share of due lessons without any entry from which a class is asked about its logs",
        CONVENTION,
    ),
    share(
        "data_late_share",
        0.50,
        "share of entries written on a later day from which a class is asked about it",
        CONVENTION,
    ),
)
