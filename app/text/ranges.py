"""How the range of one number was made, in plain words."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text.numbers import counted, number, percent
from app.text.places import Place
from app.text.readings import Reading

Row = Mapping[Hashable, object]
Settings = Mapping[str, float]
_CLASSES_NEEDED = 4


def made(got: Reading, place: Place, definition: Row, settings: Settings) -> str:
    """The method behind one number's range; says so where there is none."""
    kind = str(definition["interval_kind"])
    note = str(definition.get("range_note") or "")
    level = percent(settings.get("ci_level", 0.95))
    if got.low is None or got.high is None:
        return _none(kind)
    if kind == "bounds":
        return (
            "the low end takes every lesson without an entry as not given, the high end as given. "
            "The truth lies between; nothing is filled in."
        )
    if note:
        return f"{note} ({level})."
    if kind in ("sessions", "rate"):
        by = _by(definition)
        one = _is_one_class(place)
        how = _over_visits(got, kind, by, settings) if one else _over_classes(by)
        return f"{how} In {level} of such cases the true value lies inside."
    if kind == "wilson":
        return (
            f"Wilson’s range of a share of {counted(got.denominator, 'count')}. In {level} of such "
            "cases the true value lies inside."
        )
    return f"made for this measure alone, as its source says ({level})."


def _is_one_class(place: Place) -> bool:
    return place.level == "class"


def _by(definition: Row) -> str:
    t = "by Student’s t"
    return f"{t}; a share reaches further towards 50 %" if definition["unit"] == "share" else t


def _over_visits(got: Reading, kind: str, by: str, settings: Settings) -> str:
    needed = settings.get("interval_sessions", 4)
    if got.session_count >= needed:
        return (
            f"from how much the {number(got.session_count)} visits differ among themselves ({by}); "
            "visits that are all alike take the range of their looks instead."
        )
    few = (
        "the count itself (Poisson)"
        if kind == "rate"
        else "the looks, which count as fewer because those of one visit are alike (Wilson)"
    )
    return (
        f"with fewer than {number(needed)} visits, from how much visits of this school usually "
        f"differ, once that is known well enough; else from {few}."
    )


def _over_classes(by: str) -> str:
    return (
        f"from how much the classes differ among themselves ({by}), once "
        f"{_CLASSES_NEEDED} of them have been seen; with fewer, from their visits."
    )


def _none(kind: str) -> str:
    if kind == "none":
        return (
            "There is no range: everything that was written down is counted, nothing is a sample."
        )
    return "There is no range: too little is behind the number to give one."
