"""The fixed words of the pages of measures: units, ranges, windows, levels."""

from dataclasses import dataclass


@dataclass(frozen=True)
class RangeKind:
    """How a kind of range is made, and the settings that shape it."""

    words: str
    thresholds: tuple[str, ...] = ()


# Folder of the models that a measure reads -> what it is made of; the first that fits counts.
RESTS_ON = {
    "observations": "visits",
    "observers": "visits",
    "fidelity": "visits",
    "turns": "draws",
    "equity": "draws",
    "supports": "support",
    "plan": "lessons",
    "lessons": "lessons",
    "roster": "children",
}
THEMES = {
    "lessons": "Lessons and the plan",
    "visits": "What visits see",
    "draws": "Turns",
    "support": "Support in groups and of one’s own",
    "children": "Children and families",
}
KINDS = {
    "lessons": "lessons given and planned",
    "visits": "visits to a class, each with its looks, steps, ratings or readings",
    "draws": "draws of names",
    "support": "support plans and the checks of their sessions",
    "children": "children enrolled, and what families do with them",
}
UNITS = {
    "share": "share, stored 0-1, shown in whole percent; differences in points",
    "per_minute": "so many a minute of instruction",
    "seconds": "seconds",
    "minutes": "minutes",
    "count": "count",
    "level": "levels of the voice scale, above (+) or below the agreed one",
    "ratio": "so many to one",
    "days": "school days",
    "draw_days": "days on which the class drew names",
    "coefficient": "a number from -1 to 1, shown with two places",
}
_LEVEL = ("ci_level", "upper_level")
RANGES = {
    "sessions": RangeKind(
        "over visits, by t, from 4 visits on: how much the visits differ among themselves. With "
        "fewer, t with the spread pooled over the school's classes of that term, once that has 10 "
        "degrees of freedom; else, and where all visits are alike, Wilson's range on the number of "
        "independent looks that clustered looks are worth. Grades and the school: over the figures "
        "of their classes, from 4 classes.",
        (*_LEVEL, "interval_sessions", "design_rho"),
    ),
    "rate": RangeKind(
        "over the rates of the visits, by t, from 4 visits on; with fewer, t with the pooled "
        "spread, else the exact Poisson range of the count. Grades and the school: over the "
        "rates of their classes, from 4 classes.",
        (*_LEVEL, "interval_sessions"),
    ),
    "wilson": RangeKind("Wilson's range of a share of counts.", _LEVEL),
    "bounds": RangeKind(
        "no sampling range but two ends: the low end takes every lesson without an entry as not "
        "given, the high end as given. The truth lies between."
    ),
    "own": RangeKind("made by the model itself, as its comments say.", _LEVEL),
    "none": RangeKind("none: everything that was written down is counted, nothing is a sample."),
}
ROLLED_UP = {
    "session_mean": "A class is the mean of its visits; grades and the school are the mean of "
    "their classes, each counted once.",
    "rate": "A class with 4 visits or more is the mean of their rates, with fewer counts over "
    "minutes; grades and the school are the mean of their classes.",
    "share": "Sums over sums on every level.",
    "count": "Sums on every level.",
    "capped_share": "Capped routine by routine, then sums over sums.",
    "finished": "Each level is worked out by the model from the single rows, not from other "
    "levels' figures, unless the numerator or denominator says otherwise.",
}
WINDOWS = (
    "`term` (the term so far), `last_20` (the last days this class was in session, 20 unless the "
    "school sets another number) and, where the stave draws it, single weeks"
)
STATUS = (
    "against our line (now {line} by default): met (low end on or above it), likely met (the "
    "one-sided low end is), unclear, likely below (the one-sided high end is under it); none "
    "where there is too little to say"
)
COUNTS = {"sessions": "occasions (`session_count`)", "units": "units (`unit_count`)"}
# What may never be published, because a class or a grade has too few children with support.
NEVER_SHOWN = {"support": ("class", "grade")}
SHOWN = {
    "class": "a class: the support team and the class's own teacher",
    "grade": "a grade: principal and support team, unless withheld",
    "school": "the school: every reader",
    "tier": "a tier: principal and support team, unless withheld",
}
HEADING = (
    "*Made from the model by `make docs`; change the description beside the model, not this "
    "page. [All measures](README.md)*"
)
INTRODUCTION = """# The measures

These pages are made from the models in `dbt_project/models/intermediate/measures/` by `make docs`;
change the description beside a model, not the page. What a measure tells in plain words is written
by hand there (`sense`), and the dashboard shows the same text: every figure on every page opens it.

Every figure is a row: `value, numerator_count, denominator_count, low, high, session_count,
unit_count, sufficiency, status, window_code, as_of_on, build_id`.

- **Sufficiency** is `none`, `thin` (shown grey, raises no offer), `usable` or `solid`.
- **Range** (`low` to `high`) is 95 % unless the school sets another level. Where logs can be
  missing it is instead both ends: missing = not done to missing = done. Nothing is filled in.
- **Status** compares the range with our line: met (low end on or above it), likely met, unclear,
  likely below (the one-sided 90 % upper bound is below it). Our line is a convention of the school.
- **Windows**: `term` (term to date) and `last_20` (the last 20 days this class was in session).
- A class's score is the mean of its visits' scores, so that one long visit does not dominate.
- A grade's or the school's row is made from the same parts as the classes' rows, not from rounded
  class figures.
- Shares are stored 0-1; percent is made on the screen; a difference of shares is shown in points.

Figures describe teaching and classrooms. They do not diagnose, rate or predict a child, and are not
for appraising, paying or disciplining staff or for sanctioning pupils.
"""
