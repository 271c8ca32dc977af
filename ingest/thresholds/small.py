"""Small cells, small groups and stale pages."""

from ingest.thresholds.kind import CONVENTION, count

SMALL = (
    count(
        "small_cell",
        10,
        100,
        "a figure about fewer people than this is withheld",
        "10 is presumptively reasonable in 34 CFR 300.647 and the usual choice in 39 states "
        "(NCES 2011-603).",
        3,
    ),
    count(
        "small_group",
        30,
        1000,
        "people a group needs before groups are compared",
        "n of 30 is presumptively reasonable in 34 CFR 300.647.",
        3,
    ),
    count(
        "band_classes",
        5,
        100,
        "classes needed before the school's middle half is drawn",
        CONVENTION,
        4,
    ),
    count(
        "stale_days", 3, 60, "days after which the page says when it was last built", CONVENTION, 1
    ),
)
