"""What a number's own page says about it, part by part."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from app.text import ranges
from app.text.dates import as_date, day, moment, short_day
from app.text.numbers import amount, amount_range, counted, figure, missing, number, percent, tenth
from app.text.places import Place, linked, of_term, place_of_row
from app.text.readings import Reading
from app.text.words import (
    OCCASIONS,
    STATUS,
    SUFFICIENCY,
    TIER,
    UNITS_BEHIND,
    WITHHELD,
    grade_list,
    spoken,
)

Row = Mapping[Hashable, object]
Settings = Mapping[str, float]
_WHY_WITHHELD = {
    "small_cell": "It is about fewer people than {few}, and among so few one could be recognised.",
    "few_classes": "It would speak of too few classes: the number of a grade that has one class is "
    "its teacher’s.",
    "complementary": "It could be shown by itself, but a smaller number beside it could then be "
    "worked out by taking it from the total.",
    "end_coarsened": "So nearly everybody, or nobody, belongs to it that the few who are left "
    "could be counted.",
}

# Why a reader does not see the rows behind a number.
NOT_YOURS = {
    "principal": "Single visits and lessons are not among what a principal can open: they belong "
    "to the class and to those who support it. Their counts stand above.",
    "steward": "Single visits and lessons are not among what a data steward can open. Their "
    "counts stand above.",
    "support": "Single rows of this kind stay with the teacher of the class. Their counts stand "
    "above.",
    "teacher": "Rows of other classes are not among what a teacher can open. The counts stand "
    "above.",
}


def scope_words(place: Place, names: Mapping[str, str], term: Row | None) -> str:
    """Of whom, in which routine and when: the line under the heading."""
    whom = {
        "school": names.get("school", "the school"),
        "grade": names.get(f"grade {place.key}", grade_list(place.key)),
        "tier": f"{TIER.get(place.key, place.key)} (tier {place.key})",
        "class": names.get(f"class {place.key}", "this class"),
    }[place.level]
    routine = names.get(f"routine {place.routine}", "all routines together")
    return " · ".join([whom, routine, _when(place, term)])


def scope_of_plain(place: Place, school: str, routines: Mapping[str, str]) -> str:
    """Of whom and in which routine a plain count is."""
    whom = school if place.level == "school" else "one class"
    routine = routines.get(place.routine, "")
    return " · ".join(part for part in (whom, routine) if part)


def _when(place: Place, term: Row | None) -> str:
    title = "" if term is None else str(term["title"])
    if place.window == "week":
        return f"week of {short_day(place.week)}, {title.lower()}"
    return f"latest days of {title.lower()}" if place.window == "last_20" else title.lower()


def said(got: Reading, unit: str) -> str:
    """The number with its range, or why there is none."""
    if got.is_withheld:
        why = WITHHELD.get(got.withheld_reason, WITHHELD["small_cell"])
        return f"This number is **withheld**: {why}."
    if not got.is_known:
        return "There is no number here: nothing was seen or written down that it could rest on."
    ends = amount_range(got.low, got.high, unit)
    return f"**{amount(got.value, unit)}**{f' (range {ends})' if ends else ''}."


def withheld_words(got: Reading, small_cell: float | None) -> str:
    """What is behind a withheld number, without saying how large it is."""
    if not got.is_withheld:
        return ""
    few = "the school’s setting" if small_cell is None else number(small_cell)
    return _WHY_WITHHELD.get(got.withheld_reason, "").format(few=few)


def counts(got: Reading, row: Row, definition: Row) -> dict[str, str]:
    """What this number was made of."""
    made_of = str(definition["rests_on"])
    facts = {
        "Counted": _defined(got.numerator, str(definition["numerator"])),
        "Out of": _defined(got.denominator, str(definition["denominator"])),
    }
    facts[OCCASIONS.get(made_of, "Occasions")] = _count(got.session_count)
    facts["Days"] = _count(figure(row.get("day_count")))
    facts[UNITS_BEHIND.get(made_of, "Pieces behind it")] = _count(got.unit_count)
    facts["Classes"] = _classes(row)
    return {name: text for name, text in facts.items() if text}


def not_divided(definition: Row) -> str:
    """Said where the value is not simply the one count divided by the other."""
    return {
        "session_mean": "The number is the mean of the visits (of the classes, for a grade or the "
        "school), so it is not exactly the one count divided by the other.",
        "rate": "From four visits on the number is the mean of their rates (of the classes, for a "
        "grade or the school), so it is not exactly the one count divided by the other.",
        "capped_share": "Each routine counts at most as much as was due.",
    }.get(str(definition["shape"]), "")


def _defined(value: float | None, definition: str) -> str:
    count = _count(value)
    return f"**{count}**: {definition}" if count else definition


def _count(value: float | None) -> str:
    if value is None:
        return ""
    return number(value) if value >= 10 else tenth(value)


def _classes(row: Row) -> str:
    every, seen = figure(row.get("class_count")), figure(row.get("seen_class_count"))
    if not every:
        return ""
    return f"{number(every)}, of which {number(seen) or 'none'} were seen often enough on their own"


def how_made(got: Reading, place: Place, definition: Row, settings: Settings) -> str:
    """The range and how it was made."""
    if not got.is_known:
        return ""
    ends = amount_range(got.low, got.high, str(definition["unit"]))
    how = ranges.made(got, place, definition, settings)
    return f"{ends}: {how}" if ends else how


def window(place: Place, term: Row | None, as_of: object, settings: Settings) -> str:
    """The stretch of days, with its dates."""
    if place.window == "week":
        return f"The week that began on {day(place.week)}."
    if term is None:
        return ""
    first, last = as_date(term["first_on"]), as_date(term["last_on"])
    seen_from = as_date(as_of)
    running = seen_from is not None and last is not None and seen_from < last
    until = f"{day(seen_from)}, the day the numbers look from" if running else day(last)
    if place.window == "last_20":
        days = number(settings.get("last_days", 20))
        return f"The last {days} days on which the class was in session, up to {until}."
    so_far = " so far" if running else ""
    return f"{term['title']}{so_far}: {day(first)} to {until}."


def enough(got: Reading, definition: Row) -> str:
    """How much is behind it, and what it needs."""
    word = spoken(got.sufficiency, SUFFICIENCY)
    return f"{word[:1].upper()}{word[1:]}. It needs: {definition['minimum_data']}"


def standing(got: Reading, definition: Row) -> str:
    """How it stands to our line, and what that word means."""
    line = figure(definition["criterion"])
    if line is None:
        return "There is no line for this measure."
    if not got.is_enough or got.status == "none":
        return f"Nothing is said about our line ({percent(line)}): too little is behind the number."
    meaning = {
        "met": "the whole range is on or above it",
        "likely_met": "the range is nearly all above it",
        "unclear": "the range reaches to both sides of it",
        "likely_below": "the range is nearly all under it",
    }[got.status]
    word = STATUS[got.status]
    ours = f"Our line is {percent(line)}, a convention of the school"
    return f"{word[:1].upper()}{word[1:]}: {meaning}. {ours}."


def held(row: Row) -> str:
    """Said of a measure on which observers do not agree well enough yet."""
    kappa, pairs = figure(row.get("kappa")), figure(row.get("pair_session_count"))
    told = "" if kappa is None else f" (agreement beyond chance {amount(kappa, 'coefficient')}"
    told += "" if kappa is None else f", from {counted(pairs, 'visit')} by two)"
    return f"They do not see the same yet{told}: read it with care; no offer rests on it."


def left_out(place: Place, definition: Row) -> str:
    """What is not in it."""
    common = {
        "visits": "Training visits never count, and two observers of one visit count once."
        + (
            " A relief teacher’s visit is left out of a class’s own number."
            if place.level == "class"
            else " A relief teacher’s visit counts here, not in the class’s own number."
        ),
        "lessons": "Lessons that an emergency closure took away are not counted as due. What "
        "nobody wrote down is not filled in.",
        "draws": "Volunteers and children whom the teacher chose are kept apart from draws by lot.",
        "support": "Sessions lost because the child was away are not counted as planned.",
    }
    words = common.get(str(definition["rests_on"]), "")
    return f"{words} Rows set aside for a correction are not in it yet.".strip()


def before(row: Row, unit: str, term_title: str) -> str:
    """The term before, as a link."""
    value = figure(row.get("previous_value"))
    if value is None:
        return ""
    ends = amount_range(figure(row.get("previous_low")), figure(row.get("previous_high")), unit)
    place = of_term(place_of_row(row), row.get("previous_term_id"))
    shown = linked(f"{amount(value, unit)}{f' ({ends})' if ends else ''}", place)
    thin = str(row.get("previous_sufficiency")) not in ("usable", "solid")
    return f"{term_title or 'The term before'}: {shown}{', from too little to say' if thin else ''}"


def lineage(row: Row, built_at: object) -> str:
    """The day it looks from and the build it came from."""
    as_of = "" if missing(row.get("as_of_on")) else f"As of {day(row['as_of_on'])}. "
    return f"{as_of}Build {row['build_id']}, made {moment(built_at)} UTC."


def rows_sentence(found: int, got: Reading) -> str:
    """Over the list of visits: how it compares with what was counted."""
    listed = counted(found, "visit is listed", "visits are listed")
    return (
        f"{listed[:1].upper()}{listed[1:]}; the number rests on {number(got.session_count) or 0}."
    )
