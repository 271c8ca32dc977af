"""When classes are weighed against their school."""

from ingest.thresholds.kind import count

POOLING = (
    count(
        "pooled_classes",
        5,
        100,
        "classes with a figure needed before a class's figure is pooled with its school's",
        "Our own convention: the spread between classes is then known to about 35 % (1 / sqrt(2 x "
        "4)), with fewer hardly at all.",
        4,
    ),
)
