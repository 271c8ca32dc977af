"""What has moved since the last named change, what is about the same, and what is too early."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text import exact
from app.text.dates import as_date, short_day
from app.text.numbers import counted, figure, missing, number, percent, percent_range, whole_percent
from app.text.plain_numbers import counted_link

Row = Mapping[Hashable, object]
BEGAN = {
    "start": "the first look",
    "definition_change": "the new wording",
    "coaching_start": "coaching began",
    "new_teacher": "another teacher came",
}
SIGNAL = {
    "shift_up": "moved up",
    "shift_down": "moved down",
    "none": "about the same",
    "too_few": "too early to say",
}
TREND = {"up": "rising", "down": "falling", "none": "no trend", "too_few": "too early to say"}
HELD = "held: observers did not see the same"
NOTE = (
    "Moved means that more visits in a row lie on one side of the middle, or that they cross it "
    "less often, than luck gives. Nothing is tested under ten, and only a named change begins anew."
)


def sentence(rows: pd.DataFrame, routines: Mapping[str, str], held_until: object = None) -> str:
    """Each routine under the word for what became of it.

    `held_until` is the last day on which observers did not see the same: of a routine that is
    looked at from before that day on nothing is said, but that it is held.
    """
    shown = rows[rows["routine_id"].isin(list(routines))]
    if shown.empty:
        return ""
    is_held = pd.Series([_is_held(row, held_until) for row in shown.to_dict("records")])
    kept = shown[is_held.to_numpy()]
    said = [f"**Held**: {', '.join(routines[str(key)] for key in kept['routine_id'])}."]
    said = said if len(kept) else []
    shown = shown[~is_held.to_numpy()]
    hidden = shown["is_withheld"] if "is_withheld" in shown.columns else shown["point_count"] < 0
    withheld = int(hidden.sum())
    shown = shown[~hidden.astype(bool)]
    for code in ("shift_up", "shift_down", "none"):
        own = shown[shown["signal_code"] == code]
        names = [routines[str(key)] for key in own["routine_id"]]
        if names:
            said.append(f"**{_first_up(SIGNAL[code])}**: {', '.join(names)}.")
    early = int((shown["signal_code"] == "too_few").sum())
    if early:
        said.append(f"Too early to say: {counted(early, 'routine')}.")
    if withheld:
        said.append(f"Withheld: {counted(withheld, 'routine')}.")
    return " ".join(said)


def one(row: Row | None, thing: str, held_until: object = None) -> str:
    """One routine in a sentence; `thing` is what is counted, a visit or a week."""
    if row is None or _is_withheld(row) or _is_held(row, held_until):
        return ""
    points, since = figure(row["point_count"]), since_when(row)
    if str(row["signal_code"]) == "too_few":
        seen = counted(points, thing)
        return f"Too early to say whether it has moved: {seen} since {since}; ten are needed."
    middle = _linked(percent(figure(row["median_value"])), row)
    said = f"{_first_up(SIGNAL[str(row['signal_code'])])} since {since}: the middle of "
    run, limit = figure(row["longest_run"]), figure(row["run_limit"])
    said += f"{counted(points, thing)} is {middle}, and at most {number(run)} in a row lie on one "
    return f"{said}side of it (luck gives up to {number(limit)})."


def since_when(row: Row) -> str:
    """The named change, or the first look, with its day."""
    word = BEGAN.get(str(row["baseline_code"]), "the first look")
    when = short_day(row["baseline_first_on"])
    return f"{word} ({when})" if when else word


def table(
    rows: pd.DataFrame, routines: Mapping[str, str], thing: str, held_until: object = None
) -> pd.DataFrame:
    """Each routine with its middle, its last, and the words for them; see `sentence`."""
    found = []
    for row in rows.to_dict("records"):
        if str(row["routine_id"]) not in routines:
            continue
        line = {
            "Routine": routines[str(row["routine_id"])],
            "Since": since_when(row),
            f"{_first_up(thing)}s": number(figure(row["point_count"])) or "0",
            "Middle": _linked(_share(row["median_value"]), row),
            "Last": _share(row["last_value"]),
            "Expected of the last": _limits(row),
            "In short": HELD if _is_held(row, held_until) else _short(row),
            **exact.share("Middle", row["median_value"]),
            **exact.share("Last", row["last_value"]),
            **exact.share("Expected of the last, low", row["limit_low"]),
            **exact.share("Expected of the last, high", row["limit_high"]),
        }
        if "trend_code" in row:
            line["Trend"] = HELD if _is_held(row, held_until) else _trend(row)
        found.append(line)
    return pd.DataFrame(found)


def _is_held(row: Row, held_until: object) -> bool:
    first, last = as_date(row.get("baseline_first_on")), as_date(held_until)
    return last is not None and first is not None and first <= last and not _is_withheld(row)


def _short(row: Row) -> str:
    if _is_withheld(row):
        return "withheld"
    said = SIGNAL[str(row["signal_code"])]
    outside = row["is_last_outside"] is True or str(row["is_last_outside"]) == "True"
    return f"{said}; the last is unusual" if outside else said


def _linked(text: str, row: Row) -> str:
    home = {"room": row["class_id"]} if "class_id" in row else {"school": row["school_id"]}
    return counted_link(text, "what_moved", routine=row["routine_id"], **home)


def _is_withheld(row: Row) -> bool:
    told = row.get("is_withheld")
    return not missing(told) and bool(told)


def _trend(row: Row) -> str:
    slope = figure(row["slope"])
    word = TREND[str(row["trend_code"])]
    if slope is None or str(row["trend_code"]) not in ("up", "down"):
        return word
    size = counted(abs(whole_percent(slope)), "point")
    return f"{word}, {size} in {counted(figure(row['slope_days']), 'school day')}"


def _limits(row: Row) -> str:
    return percent_range(figure(row["limit_low"]), figure(row["limit_high"]))


def _share(value: object) -> str:
    share = figure(value)
    return "" if share is None else percent(share)


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]
