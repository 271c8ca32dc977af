"""The words that stand only on the printed brief."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from datetime import datetime

import pandas as pd

from app.text.dates import as_date, day, moment
from app.text.headings import school_heading, school_under
from app.text.numbers import counted, figure, number, percent, percent_range
from app.text.places import unlinked
from app.text.readings import Reading, pick, reading
from app.text.words import withheld

Row = Mapping[Hashable, object]
KIND = "Brief for the governing board"
INVENTED = "Invented school"
PICTURE_NOTE = (
    "How often children did as agreed, or in an accepted other way, when someone looked. Each note "
    "is one term, its stem the range the true value may lie in."
)
GRADES_NOTE = "Each grade beside its own terms, youngest first, never beside another."
TIERS_NOTE = "Lessons and support sessions given, of those planned."
COACHING_NOTE = (
    "Moved: the visits since the coaching began stand higher, on average, than those before it. It "
    "is not told whether the coaching was the cause: other things change in a term too."
)
BEYOND = (
    "Visits to one and the same class differ too; only what goes beyond that is laid to the "
    "classes. No class is named or counted out."
)
TABLE_NOTE = "Before is the term before; – means that there is nothing to show."
NO_COACHING = "No round of coaching has begun yet this year."
NOT_PRINTED = "This page could not be printed"
OUR_MISTAKE = "It is our mistake, not yours. Nothing was changed: printing only reads."
WHOM_TO_TELL = (
    "The screen shows the same and still works. Please tell the person who looks after Roundelay "
    "in your school which page you asked for."
)
# What the brief shows, in the catalogue's order of telling.
SHOWN = ("dose", "responsiveness", "support_delivery")
# How much of what should be written down is there.
RECORDS = (
    "completeness_lessons",
    "completeness_visits",
    "completeness_draws",
    "completeness_supports",
    "completeness_family",
)
_MOST_NAMED = 4


def title(school: Row, term: Row | None) -> str:
    """The name of the document: what it is, of which school and when."""
    return f"{school_heading(KIND, term)} · {school['school_name']}"


def heading(term: Row | None) -> str:
    """`Brief for the governing board, spring term so far`."""
    return school_heading(KIND, term)


def under(school: Row, term: Row | None) -> str:
    """The size of the school, the day with its year, the week of the term."""
    said = unlinked(school_under(school, term)).removeprefix(f"{school['school_name']} · ")
    return said.replace(day(school["as_of_on"]), full_day(school["as_of_on"]))


def full_day(value: object) -> str:
    """`Friday 15 May 2026`: on paper the year is not known from anywhere else."""
    when = as_date(value)
    return "no date yet" if when is None else f"{day(when)} {when.year}"


def foot(build_id: str, school: Row) -> str:
    """As-of day and build, for the foot of every page."""
    return f"Figures as of {full_day(school['as_of_on'])} · build {build_id}"


def made(build_id: str, built_at: datetime) -> str:
    """When the build was made."""
    return f"All of it is read from build {build_id}, made {moment(built_at)} UTC."


def definitions(catalogue: pd.DataFrame) -> str:
    """Where each number's definition stands."""
    names = dict(zip(catalogue["measure_name"], catalogue["title"], strict=True))
    told = [f"“{names[name]}”" for name in SHOWN if name in names]
    listed = f"{', '.join(told[:-1])} and {told[-1]}" if len(told) > 1 else "".join(told)
    return (
        f"Shares are counted as {listed or 'the catalogue'} on the dashboard’s page “What these "
        "numbers mean”: what is counted, out of what, what is left out, how the range is made and "
        "what it cannot say. On the dashboard every number opens to the counts behind it."
    )


def clipped(text: object, letters: int) -> str:
    """A name no longer than the place it is given."""
    said = str(text)
    return said if len(said) <= letters else f"{said[: letters - 1].rstrip()}…"


def short_term(title: object, letters: int) -> str:
    """`Autumn` for `Autumn term`; `Aut` or `T1` where there is no room for more."""
    said = str(title).removesuffix(" term").removesuffix(" Term")
    if len(said) <= letters:
        return said
    digits = "".join(letter for letter in said if letter.isdigit())[-2:]
    return f"{said[:1]}{digits}" if digits else said[:3]


def not_pictured(names: Iterable[str], left: int) -> str:
    """Routines without a picture: nobody looked, or there are more than a page can hold."""
    said = []
    none = list(names)
    if len(none) > _MOST_NAMED:
        said.append(f"Nobody has looked yet at {counted(len(none), 'other routine')}.")
    elif none:
        said.append(f"Nobody has looked yet: {', '.join(none)}.")
    if left:
        said.append(f"{counted(left, 'more routine')} on the dashboard, under By routine.")
    return " ".join(said)


def more_grades(left: int) -> str:
    """Said when there are more grades than a page can hold."""
    return f"{counted(left, 'more grade')} on the dashboard, under By grade." if left else ""


def share_cells(got: Reading) -> tuple[str, str]:
    """A share and its range, for two narrow cells; in place of a range, why it says little."""
    if got.is_withheld:
        return "withheld", ""
    if not got.is_known:
        return "–", ""
    ends = percent_range(got.low, got.high)
    return percent(got.value), ends if got.is_enough else "too few looks"


def given_words(given: Iterable[tuple[str, Reading]]) -> str:
    """`All pupils 612 of 746 · Groups 40 of 44`, for the tiers that carry a number."""
    return " · ".join(f"{name} {given_cell(got)}" for name, got in given if got.is_known)


def given_cell(got: Reading) -> str:
    """Lessons given of those due."""
    if got.is_withheld:
        return "withheld"
    if not got.is_known:
        return "–"
    return f"{number(got.numerator) or '0'} of {number(got.denominator)}"


def before_cell(row: Row | None) -> str:
    """The term before."""
    value = None if row is None else figure(row.get("previous_value"))
    return "–" if value is None else percent(value)


def why_withheld(rows: Iterable[Row]) -> str:
    """The reasons behind every “withheld”, once each."""
    found = [withheld(got) for got in map(reading, rows) if got.is_withheld]
    reasons = [text.removeprefix("withheld: ") for text in dict.fromkeys(found)]
    return f"Withheld: {'; '.join(reasons)}." if reasons else ""


def records(rows: pd.DataFrame, titles: Mapping[str, str]) -> list[tuple[str, str]]:
    """How much of what should be written down is there, under the catalogue's titles."""
    found = []
    for name in RECORDS:
        got = pick(rows, measure_name=name, routine_id="*")
        if got.is_known:
            found.append((titles.get(name, name), f"{percent(got.value)} ({given_cell(got)})"))
        elif got.is_withheld:
            found.append((titles.get(name, name), "withheld"))
    return found
