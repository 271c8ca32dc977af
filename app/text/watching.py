"""Watching together: how far observers agree, how each sees, and what a number rests on."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

import pandas as pd

from app.text import exact
from app.text.numbers import (
    amount,
    amount_range,
    counted,
    figure,
    missing,
    number,
    percent,
    whole_percent,
)
from app.text.plain_numbers import counted_link
from app.text.words import spoken

Row = Mapping[Hashable, object]
KIND = {
    "moment": "looks at children",
    "step": "steps",
    "voice": "voice readings",
    "rating": "ratings",
}
AGREED = {
    "too_few": "too few visits by two to say",
    "agreed": "they see the same",
    "look_together": "look together before relying on it",
}
READING = {
    "sees_less": "sees less than most",
    "alike": "sees what most see",
    "sees_more": "sees more than most",
    "too_few": "too few visits to say",
}
DRIFT = {
    "falling": "sees less than at first",
    "steady": "as at first",
    "rising": "sees more than at first",
    "too_few": "too few visits by two to say",
}
KAPPA_NOTE = (
    "The same: how often both wrote the same. Beyond chance takes off what luck alone would give: "
    "1 when two always write the same, 0 when they agree no more often than that. Where “seen as "
    "met” is near 100 % it can be low although they agree: then go by “the same”."
)
OBSERVER_TABLE_NOTE = (
    "Sees more or less by: how many points more (+) or fewer (\u2212) than the middle observer "
    "this one writes as met, with what luck may have done taken off. As measured: the range before "
    "that. Over the year: whether it has changed since the first visits."
)
TELLS_NOTE = (
    "From 0 to 1: how far as many other visits, made by other people, would tell the same of a "
    "class. 1 would be the very same; “relied on” begins at {enough}."
)
OBSERVER_NOTE = (
    "By key, in no order of merit. Two people may watch differently and both watch well; the way "
    "to see alike is to watch a few visits together and to talk them over."
)


def aim_sentence(rows: pd.DataFrame, aim: float | None) -> str:
    """Whether enough visits are watched by two, and what to do if not."""
    share = None if rows.empty else figure(rows.iloc[0]["double_watched_rate"])
    if share is None or aim is None:
        return ""
    if share < aim:
        return f"The aim is {percent(aim)} watched by two: go together on a few of the next visits."
    return f"That is enough: the aim is {percent(aim)}."


def agreement_sentence(rows: pd.DataFrame) -> str:
    """How many visits two watched, and whether anything is to be looked at together."""
    if rows.empty:
        return "Nobody has been watched by two in this term yet."
    first = rows.to_dict("records")[0]
    two, every = figure(first["double_watched_count"]), figure(first["visit_count"])
    share = percent(figure(first["double_watched_rate"]))
    where = {"school": first["school_id"], "term": first["term_id"]}
    watched = counted_link(number(two) or "None", "watched_by_two", **where)
    said = f"**{watched}** of {counted(every, 'visit')} this term "
    said += f"{'was' if two == 1 else 'were'} watched by two ({share})."
    apart = [KIND[str(row["measure_kind"])] for row in _with(rows, "look_together")]
    if apart:
        return f"{said} Look together again at: {', '.join(apart)}."
    agreed = [KIND[str(row["measure_kind"])] for row in _with(rows, "agreed")]
    if not agreed:
        return f"{said} That is too few to say whether they see the same."
    return f"{said} They see the same in: {', '.join(agreed)}."


def _with(rows: pd.DataFrame, status: str) -> list[dict[Hashable, object]]:
    return rows[rows["status"] == status].to_dict("records")


def agreement_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Agreement of each kind of observation."""
    return pd.DataFrame(
        [
            {
                "Of": KIND[str(row["measure_kind"])],
                "Visits by two": number(figure(row["pair_session_count"])) or "0",
                "Written by both": number(figure(row["compared_count"])) or "0",
                "The same": _share(row["agreement_rate"]),
                "Beyond chance": counted_link(
                    _coefficient(row["kappa"]),
                    "watched_by_two",
                    school=row["school_id"],
                    term=row["term_id"],
                ),
                "Range": amount_range(
                    figure(row["kappa_low"]), figure(row["kappa_high"]), "coefficient"
                ),
                "Seen as met": _share(row["prevalence_rate"]),
                "In short": AGREED[str(row["status"])],
                **exact.share("The same", row["agreement_rate"]),
                **exact.plain("Beyond chance, number", row["kappa"]),
                **exact.plain("Low, number", row["kappa_low"]),
                **exact.plain("High, number", row["kappa_high"]),
                **exact.share("Seen as met", row["prevalence_rate"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def observers_table(rows: pd.DataFrame) -> pd.DataFrame:
    """How each observer sees beside the others, by key."""
    return pd.DataFrame(
        [
            {
                "Observer": row["observer_id"],
                "Of": KIND[str(row["measure_kind"])],
                "Visits": number(figure(row["visit_count"])),
                "By two": number(figure(row["pair_count"])) or "0",
                "In short": spoken(row["reading_code"], READING)
                if not missing(row["reading_code"])
                else "withheld",
                "Sees more or less by": counted_link(
                    _points(row["lean"]), "observers_compared", school=row["school_id"]
                ),
                "As measured": _points_range(row),
                "Over the year": ""
                if missing(row["drift_code"])
                else DRIFT[str(row["drift_code"])],
                **exact.share("Sees more or less by", row["lean"]),
                **exact.share("As measured, low", row["difference_low"]),
                **exact.share("As measured, high", row["difference_high"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def dependability_sentence(rows: pd.DataFrame) -> str:
    """How many visits make a class's number one to rely on."""
    firsts = [row for row in rows.drop_duplicates("measure_kind").to_dict("records")]
    told = []
    for row in firsts:
        needed = figure(row["visits_needed"])
        many = "more than can be made" if needed is None else counted(needed, "visit")
        many = counted_link(many, "visits_needed", school=row["school_id"])
        if str(row["basis_code"]) != "none":
            told.append(f"{KIND[str(row['measure_kind'])]}: {many}")
    if not told:
        return "How many visits a number needs cannot be said yet."
    return f"Visits to one class before its number can be relied on: {'; '.join(told)}."


def tells_note(enough: float | None) -> str:
    """What the figures of the table mean, and where they are enough."""
    said = "0.8" if enough is None else amount(enough, "coefficient")
    return TELLS_NOTE.format(enough=said)


def dependability_table(
    rows: pd.DataFrame, planned: tuple[int, ...] = (1, 3, 6, 12)
) -> pd.DataFrame:
    """How far another set of visits would tell the same, after 1 to 12 of them."""
    found = []
    for kind, part in rows.groupby("measure_kind", sort=False):
        line: dict[str, object] = {"Of": KIND[str(kind)]}
        for row in part[part["planned_visits"].isin(planned)].to_dict("records"):
            after = f"After {counted(figure(row['planned_visits']), 'visit')}"
            line[after] = counted_link(
                _coefficient(row["phi"]), "visits_needed", school=row["school_id"]
            )
            line |= exact.plain(f"{after}, number", row["phi"])
        first = part.to_dict("records")[0]
        line["It rests on"] = _basis(first)
        found.append(line)
    return pd.DataFrame(found)


def _basis(row: Row) -> str:
    basis = str(row["basis_code"])
    if basis == "school":
        return f"this school’s {counted(figure(row['visit_count']), 'visit')}"
    if basis == "prior":
        return f"figures published of other instruments: {row['prior_source']}"
    return "nothing yet"


def held_sentence(rows: pd.DataFrame, titles: Mapping[str, str]) -> str:
    """Which measures are held because observers do not see the same yet."""
    names = [titles.get(str(name), str(name)) for name in rows["measure_name"]]
    if not names:
        return ""
    several = "are" if len(names) > 1 else "is"
    return (
        f"Held until observers see the same: {', '.join(names)}. What is shown of "
        f"{'them' if len(names) > 1 else 'it'} {several} to be read with care, and no offer rests "
        "on it."
    )


def held_in_terms(titles: Sequence[object]) -> str:
    """Said beside a year of visits of which some terms are held."""
    if not titles:
        return ""
    terms = " and ".join(str(title) for title in titles)
    return (
        f"Observers did not see the same in {terms}. Those visits are drawn all the same, so that "
        "nothing is hidden; whether something moved is not told from them."
    )


def _share(value: object) -> str:
    share = figure(value)
    return "" if share is None else percent(share)


def _coefficient(value: object) -> str:
    found = figure(value)
    return "" if found is None else amount(found, "coefficient")


def _points(value: object) -> str:
    lean = figure(value)
    return "" if lean is None else f"{_signed(lean)} points"


def _points_range(row: Row) -> str:
    low, high = figure(row["difference_low"]), figure(row["difference_high"])
    return "" if low is None or high is None else f"{_signed(low)} to {_signed(high)} points"


def _signed(share: float) -> str:
    """Whole points with their sign, none for nothing."""
    points = whole_percent(share)
    return f"{points:+d}".replace("-", "\u2212") if points else "0"
