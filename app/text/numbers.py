"""Whole percents, points, counts and amounts with their unit."""

from __future__ import annotations

import math

import pandas as pd

NBSP = "\u00a0"
_LOWEST, _HIGHEST = 0.005, 0.995
_SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def missing(value: object) -> bool:
    """Whether a table's cell is a gap, in any of the ways a table writes one."""
    if value is None or value is pd.NaT or value is pd.NA:
        return True
    return isinstance(value, float) and math.isnan(value)


def figure(value: object) -> float | None:
    """The number in a table's cell, None for a gap."""
    return None if missing(value) else float(str(value))


def known(value: float | None) -> bool:
    """Whether there is a number at all: neither None nor a gap."""
    return value is not None and not math.isnan(value)


def whole_percent(share: float) -> int:
    """The whole percent of a share, halves rounded up as people round."""
    return math.floor(share * 100 + 0.5)


def percent(share: float | None) -> str:
    """`82 %`; a share that is not quite nothing or not quite all is never rounded into either."""
    if share is None or not known(share):
        return "no figure"
    if 0 < share < _LOWEST:
        return f"under{NBSP}1{NBSP}%"
    if _HIGHEST < share < 1:
        return f"over{NBSP}99{NBSP}%"
    return f"{whole_percent(share)}{NBSP}%"


def percent_range(low: float | None, high: float | None) -> str:
    """`76 to 82 %`; one number when both ends round to the same."""
    if low is None or high is None or not (known(low) and known(high)):
        return ""
    if whole_percent(low) == whole_percent(high):
        return percent(low)
    return f"{whole_percent(low)} to {whole_percent(high)}{NBSP}%"


def points(before: float, after: float) -> str:
    """The difference of two shares: `4 points up`, `about the same`."""
    change = whole_percent(after) - whole_percent(before)
    if change == 0:
        return "about the same"
    return f"{counted(abs(change), 'point')} {'up' if change > 0 else 'down'}"


def number(value: float | None) -> str:
    """A count with a thin gap for thousands: `8 012`."""
    if value is None or not known(value):
        return ""
    return f"{round(value):,}".replace(",", "\u202f")


def counted(count: float | None, one: str, many: str = "") -> str:
    """`1 visit`, `214 visits`, `no visits`; the plural is `one` + s unless given."""
    amount = 0 if count is None or not known(count) else round(count)
    word = one if amount == 1 else many or f"{one}s"
    return f"{number(amount) if amount else 'no'} {word}"


def in_words(count: int) -> str:
    """Small numbers as words, for the start of a sentence: `Four`."""
    word = _SMALL[count] if 0 <= count < len(_SMALL) else number(count)
    return word[:1].upper() + word[1:]


def tenth(value: float) -> str:
    """At most one decimal, and none when it says nothing: `3`, `2.6`."""
    text = f"{value:.1f}"
    return text.removesuffix(".0").replace("-", "\u2212")


def hundredth(value: float) -> str:
    """Two decimals, for coefficients between -1 and 1: `0.62`."""
    return f"{value:.2f}".replace("-", "\u2212")


def amount(value: float | None, unit: str) -> str:
    """A value in its unit, as a reader would say it."""
    if value is None or not known(value):
        return "no figure"
    match unit:
        case "share":
            return percent(value)
        case "days" if value == 1:
            return "1 school day"
        case "draw_days" if value == 1:
            return "1 day with draws"
        case "coefficient":
            return hundredth(value)
        case "level":
            return level_words(value)
        case _ if ending := _ending(unit):
            return f"{tenth(value)}{ending}"
        case _:
            return number(value) if value >= 10 else tenth(value)


def amount_range(low: float | None, high: float | None, unit: str) -> str:
    """The range in the same unit; empty when there is none."""
    if unit == "share":
        return percent_range(low, high)
    if low is None or high is None or not (known(low) and known(high)):
        return ""
    rounded = hundredth if unit == "coefficient" else tenth
    if rounded(low) == rounded(high):
        return amount(low, unit)
    return f"{rounded(low)} to {rounded(high)}{_ending(unit)}"


def _ending(unit: str) -> str:
    endings = {
        "per_minute": " a minute",
        "seconds": " seconds",
        "minutes": " minutes",
        "days": " school days",
        "draw_days": " days with draws",
        "ratio": " to 1",
    }
    return endings.get(unit, "")


def level_words(value: float) -> str:
    """A mean distance from the agreed voice level: `a little loud (+0.3)`."""
    if abs(value) < 0.15:
        return "as agreed"
    size = "a little " if abs(value) < 0.75 else ""
    side = "loud" if value > 0 else "quiet"
    sign = "+" if value > 0 else ""
    return f"{size}{side} ({sign}{tenth(value)})"
