"""The page docs/simulations.md, written from the figures that were kept."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

Figures = dict[str, Any]

OPENING = """# Simulations

Where the truth is known, does the warehouse say it? Everything here goes through the same models
and macros as a school's own rows; `python -m tests.simulation` makes it anew (about a quarter of
an hour) and writes this page. All schools and children are invented.
"""

RANGES = """
## Ranges hold the truth about as often as they say

Classes whose true share lies anywhere from .55 to .95, with an occasion SD of .10 and 40 looks a
visit, so that looks of one visit are alike. A 95 % range should hold the truth in 93 to 97 of 100
classes. Below 4 visits the spread is pooled over the school, from 4 on it is the class's own.
"""

OFFERS = """
## The rule of an offer

Classes with a known share, an occasion SD of .10 and 40 looks a visit. *Mean alone*: the term mean
is under .80 (the naive rule). *Bound*: the one-sided 90 % upper bound is under .80, from three
visits on two days. *Found*: the bound, a second sign or one that lasts, and the control of false
discoveries over all lines of the review.
"""

FALSE = """
Of what a review finds, the share that is truly at or over the line should stay at or under .10
(`offer_false_share`):
"""

AUDITS = """
## The audit of draws

p when draws go as declared (the first three: no more than the level may be at or under it), and
when something is amiss. Ties are counted against the alarm, so that p is too large rather than too
small. "KS p" asks whether the p with ties split is even; in the third way the audit knows of absent
children only from cards that came up, which makes it cautious, not even.
"""

PLANTED = """
## Fifty invented schools

Each holds a random half of the planted situations. Found: of those planted. Elsewhere: said of a
class, grade or observer where nothing of the kind was planted; some of these are true all the same
(a class may dip, or a cycle close early, by chance).
"""

BANDS = """
Classes x routines x terms by their true mean share of the term, and how many each rule names. The
naive rule is "term mean below 80 %". The warehouse's rule needs three visits on two days, which
most lines of a term do not have, so it stays silent far more often than it is wrong:
"""


def table(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """The rows of a table as plain values."""
    rows: list[dict[str, Any]] = json.loads(frame.to_json(orient="records"))
    return rows


def page(kept: Mapping[str, Figures]) -> str:
    """The whole page."""
    parts = [OPENING]
    if "ranges" in kept:
        parts += [RANGES, _table(kept["ranges"]["ranges"])]
    if "offers" in kept:
        parts += _offers(kept["offers"])
    if "audits" in kept:
        parts += [AUDITS, _table(kept["audits"]["audits"])]
    if "planted" in kept:
        parts += _planted(kept["planted"])
    seeds = ", ".join(f"{name} {one['seed']}" for name, one in kept.items())
    return "\n".join([*parts, f"\nSeeds: {seeds}.\n"])


def _offers(figures: Figures) -> list[str]:
    parts = [OFFERS]
    for name, words in (("quarter", "A quarter"), ("tenth", "A tenth")):
        false = figures[f"false_{name}"]
        parts += [
            f"{words} of the classes truly under the line ({false['reviews']} reviews):\n",
            _table(
                figures[f"offers_{name}"], {"naive": "mean alone", "share": "true share"}
            ),
            FALSE,
            f"by the rule {false['rule']:.3f}, by the bound alone {false['bound']:.3f}.\n",
        ]  # fmt: skip
    return parts


def _planted(figures: Figures) -> list[str]:
    situations, bands = figures["situations"], figures["bands"]
    told = [
        {
            **row,
            "recall": _over(row["found"], row["planted"]),
            "precision": None
            if row["elsewhere"] is None
            else _over(row["found"], row["found"] + row["elsewhere"]),
        }
        for row in situations
    ]
    return [PLANTED, _table(told), BANDS, _table(bands), _beside(bands)]


def _beside(bands: Sequence[Mapping[str, Any]]) -> str:
    """Precision and recall of both rules, with truth under .80 as what should be named."""
    under = [row for row in bands if float(row["band"].split(", ")[1].rstrip(")")) <= 0.80]
    lines = sum(row["lines"] for row in under)
    said = []
    for rule, words in (("naive", "naive rule"), ("found", "warehouse's rule")):
        right = sum(row[rule] for row in under)
        named = sum(row[rule] for row in bands)
        said.append(
            f"{words}: precision {_over(right, named)} ({right:,} of {named:,}),"
            f" recall {_over(right, lines)} ({right:,} of {lines:,})"
        )
    return "\nA true share under .80 as what should be named - " + "; ".join(said) + ".\n"


def _over(part: float, whole: float) -> str:
    return f"{part / whole:.2f}" if whole else "-"


def _table(rows: Sequence[Mapping[str, Any]], names: Mapping[str, str] | None = None) -> str:
    names = names or {}
    header = [names.get(name, name) for name in rows[0]]
    lines = [f"| {' | '.join(header)} |", f"|{'---|' * len(header)}"]
    lines += [f"| {' | '.join(_cell(one) for one in row.values())} |" for row in rows]
    return "\n".join(lines)


def _cell(value: Any) -> str:
    if value is None:
        return "-"
    if isinstance(value, float):
        return f"{value:,.0f}" if value.is_integer() and abs(value) > 1 else f"{value:.3f}"
    return f"{value:,}" if isinstance(value, int) else str(value)
