"""Every number that a rule or a measure depends on: name, default, allowed range, source.

The defaults are conventions, not truths: a school may set its own in `roundelay.toml`. They reach
the models as the dbt variable `thresholds`; no model carries a number of its own.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Threshold:
    """One number a school may set: allowed from `lowest` to `highest`, both included."""

    name: str
    default: float
    lowest: float
    highest: float
    description: str
    source_note: str
    is_whole: bool = False


def _share(name: str, default: float, description: str, source_note: str) -> Threshold:
    return Threshold(name, default, 0.0, 1.0, description, source_note)


def _count(
    name: str, default: int, highest: int, description: str, source_note: str, lowest: int = 0
) -> Threshold:
    return Threshold(name, default, lowest, highest, description, source_note, is_whole=True)


_CONVENTION = "Our own convention; no source was found."
_PRACTICE = "Common practice; no source was found."

_LINE = (
    _share(
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

_ENOUGH = (
    _count("min_sessions", 3, 50, "visits needed before a value is usable", _CONVENTION, 1),
    _count("min_days", 2, 50, "different days the visits must fall on", _CONVENTION, 1),
    _count(
        "solid_sessions",
        6,
        100,
        "visits from which a value counts as solid",
        "With 6 sessions a true .70 class is noticed 78 % of the time, with 3 only 55 % (our "
        "simulation).",
        1,
    ),
    _count(
        "interval_sessions",
        4,
        50,
        "visits from which the range is taken over visits; below that from pooled spread",
        _CONVENTION,
        2,
    ),
    _share("seen_share", 0.60, "steps seen below this share make a visit thin", _CONVENTION),
    _share(
        "not_visible_share",
        0.25,
        "looks where the child could not be seen above this share make a visit thin",
        _CONVENTION,
    ),
    _count(
        "min_dimensions",
        3,
        5,
        "dimensions needed, adherence among them, before fidelity is given",
        "Of the five of Dane & Schneider 1998; how many are enough is our convention.",
        1,
    ),
    _count(
        "praise_min_statements",
        30,
        1000,
        "praise and correction statements needed before their ratio is shown",
        "Our convention; no threshold for the ratio itself was found in 151 classrooms "
        "(Caldarella et al. 2020).",
        1,
    ),
    _count("run_min_points", 10, 100, "weeks needed before a shift is tested for", _CONVENTION, 5),
)

_TEACHING = (
    _count("last_days", 20, 100, "days in session in the short window", _CONVENTION, 1),
    _count("newcomer_days", 3, 30, "school days in which a newcomer is reached", _CONVENTION, 1),
    _count("break_weekdays", 5, 30, "weekdays without school that make a break", _CONVENTION, 1),
    _count("late_days", 10, 100, "school days after which an entry counts as late", _CONVENTION, 1),
    _share(
        "part_delivered_share",
        0.50,
        "what a partly given lesson counts as when its steps were not noted",
        _CONVENTION,
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
        _CONVENTION,
    ),
    _count("voice_tolerance", 1, 4, "voice levels either side that still match", _PRACTICE),
)

_OFFERS = (
    _count("offer_capacity", 4, 100, "hands the team can offer in one review", _CONVENTION),
    _count(
        "offer_signs", 2, 10, "signs needed, unless one lasts, before help is offered", _CONVENTION
    ),
    _share(
        "offer_false_share",
        0.10,
        "share of offers in one review that may be due to luck",
        "Benjamini & Hochberg 1995 gives the method; the level is a convention.",
    ),
    _count(
        "review_days", 14, 90, "days from one review to the next", "Teams meet every 2-4 weeks.", 1
    ),
    _share(
        "grade_matter_share",
        0.50,
        "share of a grade's classes that makes it a matter of the grade",
        _CONVENTION,
    ),
    _count(
        "grade_matter_classes", 3, 50, "classes a grade needs for that to be asked", _CONVENTION, 1
    ),
    _share(
        "school_matter_share",
        0.30,
        "share of the school's classes that makes it a matter of the school",
        _CONVENTION,
    ),
)

_SMALL = (
    _count(
        "small_cell",
        10,
        100,
        "a figure about fewer people than this is withheld",
        "10 is presumptively reasonable in 34 CFR 300.647 and the usual choice in 39 states "
        "(NCES 2011-603).",
        3,
    ),
    _count(
        "small_group",
        30,
        1000,
        "people a group needs before groups are compared",
        "n of 30 is presumptively reasonable in 34 CFR 300.647.",
        3,
    ),
    _count(
        "band_classes",
        5,
        100,
        "classes needed before the school's middle half is drawn",
        _CONVENTION,
        4,
    ),
    _count(
        "stale_days", 3, 60, "days after which the page says when it was last built", _CONVENTION, 1
    ),
)

_INTAKE = (
    _share(
        "roster_collapse_share",
        0.20,
        "a full roster file that would end more memberships than this is refused",
        _CONVENTION,
    ),
    _count(
        "min_instruction_days", 120, 366, "fewest days of instruction a year may have", _CONVENTION
    ),
    _count(
        "max_instruction_days", 220, 366, "most days of instruction a year may have", _CONVENTION
    ),
    _count("no_teacher_days", 5, 60, "school days a class may be without a teacher", _CONVENTION),
    _count(
        "identical_rows",
        5,
        100,
        "identical rows entered in one minute that are too many",
        _CONVENTION,
        1,
    ),
    _share("sample_count_share", 0.10, "how far the number of looks may be off", _CONVENTION),
)

_ALL = (*_LINE, *_ENOUGH, *_TEACHING, *_OFFERS, *_SMALL, *_INTAKE)
THRESHOLDS: Mapping[str, Threshold] = {threshold.name: threshold for threshold in _ALL}


def defaults() -> dict[str, float]:
    """Every threshold at its default; whole numbers as `int`."""
    return {one.name: int(one.default) if one.is_whole else one.default for one in _ALL}
