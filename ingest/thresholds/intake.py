"""What the door lets in."""

from ingest.thresholds.kind import CONVENTION, count, share

INTAKE = (
    share(
        "roster_collapse_share",
        0.20,
        "a full roster file that would end more memberships than this is refused",
        CONVENTION,
    ),
    count(
        "min_instruction_days", 120, 366, "fewest days of instruction a year may have", CONVENTION
    ),
    count("max_instruction_days", 220, 366, "most days of instruction a year may have", CONVENTION),
    count("no_teacher_days", 5, 60, "school days a class may be without a teacher", CONVENTION),
    count(
        "identical_rows",
        5,
        100,
        "identical rows entered in one minute that are too many",
        CONVENTION,
        1,
    ),
    share("sample_count_share", 0.10, "how far the number of looks may be off", CONVENTION),
)
