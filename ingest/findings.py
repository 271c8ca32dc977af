"""What a check can say about a file: the finding itself, and the rules that hold for every feed.

Messages never repeat a value that was received: it may be a name. The value stands beside the
message, in `Finding.value`, for the person at the file only.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

REFUSE, QUARANTINE, WARN, KNOWN = "refuse", "quarantine", "warn", "known"
CORRECTION, PERSON = "correction", "person"


@dataclass(frozen=True)
class Finding:
    """One thing found: which rule, where, and what to do. `count` rows share it; `line` is the
    first of them. Verdict: refuse (the file), quarantine (the row), warn, known."""

    rule: str
    verdict: str
    file_name: str
    line: int | None
    column: str | None
    value: str | None
    message: str
    remedy: str
    count: int = 1


@dataclass(frozen=True)
class GenericRule:
    """A rule that follows from the list of fields or from the form of the file.

    `release`: who can let a set-aside row in: nothing but a correction, or a person as well.
    """

    name: str
    title: str
    verdict: str
    release: str
    message: str
    remedy: str


def _refuse(name: str, title: str, message: str, remedy: str) -> GenericRule:
    return GenericRule(name, title, REFUSE, CORRECTION, message, remedy)


def _aside(
    name: str, title: str, message: str, remedy: str, release: str = CORRECTION
) -> GenericRule:
    return GenericRule(name, title, QUARANTINE, release, message, remedy)


_FILE = (
    _refuse(
        "unknown_feed",
        "Not one of our tables",
        "Neither the name nor the first line of this file says which table it is.",
        "Name the file after its table, such as routine_lessons.csv, or start from a blank sheet.",
    ),
    _refuse(
        "unreadable_file",
        "The file cannot be opened",
        "The file cannot be opened: {detail}",
        "Open it in the program that made it, save it again (without a password) and send that.",
    ),
    _refuse(
        "unsafe_archive",
        "The zip is not safe to open",
        "The zip is not opened: {detail}",
        "Zip only the .csv or .xlsx files themselves, without folders or further zips.",
    ),
    _refuse(
        "wrong_encoding",
        "Not saved as UTF-8",
        "The file is not saved as UTF-8 text, so letters such as é would come out wrong.",
        "Save it again as 'CSV UTF-8 (comma delimited)'.",
    ),
    _refuse(
        "wrong_delimiter",
        "Wrong separator",
        "The columns are not separated by a comma, a semicolon or a tab.",
        "Save the file again as CSV with commas.",
    ),
    _refuse(
        "missing_column",
        "A column is missing",
        "The column {column} is missing.",
        "Add the column {column} with exactly this name; its cells may be empty if it is optional.",
    ),
    _refuse(
        "unknown_column",
        "A column is not known",
        "The column {column} is not one of this table.{detail}",
        "Take the column out, or give it the name that the table's description uses.",
    ),
    _refuse(
        "duplicate_column",
        "A column stands twice",
        "The column {column} stands twice in the first line.",
        "Keep one of the two and take the other out.",
    ),
    _refuse(
        "nul_byte",
        "Damaged text",
        "The file holds a NUL byte, which no text has: it is damaged or is not a text file.",
        "Save it again from the program it came from; do not rename an .xlsx file to .csv.",
    ),
    _refuse(
        "unclosed_quote",
        "A quotation mark is not closed",
        "A quotation mark is opened and not closed, so the rows after it run together.",
        'Close the quotation mark; inside a quoted cell, write it twice ("").',
    ),
    _refuse(
        "empty_file",
        "Nothing in the file",
        "There are no rows in this file.",
        "Check that the right file was saved; a table without rows need not be sent.",
    ),
    _refuse(
        "date_order_swapped",
        "Day and month are the other way round",
        "The dates in {column} are not written year-month-day, in the whole file.",
        "Set the column's format to yyyy-mm-dd (2026-05-31) and save the file again.",
    ),
    _refuse(
        "names_for_keys",
        "Names where keys belong",
        "Most cells of {column} look like people's names, not keys.",
        "Put the key from the roster in {column} (such as pu-0417). Names stay in the people file.",
    ),
)

_ROW_SHAPE = (
    _aside(
        "short_row",
        "Too few cells",
        "The row has fewer cells than the first line has columns.",
        "Fill in the missing cells; leave them empty rather than out.",
    ),
    _aside(
        "long_row",
        "Too many cells",
        "The row has more cells than the first line has columns.",
        "A cell with a comma inside must stand in quotation marks.",
    ),
)

_CELL = (
    _aside(
        "missing_value",
        "A needed cell is empty",
        "{column} is empty.",
        "Fill in {column}; if it is not known, leave the whole row out.",
    ),
    _aside(
        "not_a_number",
        "Not a number",
        "{column} is not a number.",
        "Write digits only, with a point for decimals (2.5); no unit, no space.",
    ),
    _aside(
        "not_whole",
        "Not a whole number",
        "{column} must be a whole number.",
        "Write a whole number without decimals.",
    ),
    _aside(
        "not_a_date",
        "Not a date",
        "{column} is not a date written year-month-day.",
        "Write the day as 2026-05-31.",
    ),
    _aside(
        "not_a_time",
        "Not a time",
        "{column} is not a time of day.",
        "Write the time as 09:05 or 09:05:30, by the 24-hour clock.",
    ),
    _aside(
        "not_a_moment",
        "Not a moment",
        "{column} is not a moment with its offset from UTC.",
        "Write it as 2026-05-31T09:05:00+01:00, or with a Z at the end for UTC.",
    ),
    _aside(
        "not_true_false",
        "Neither true nor false",
        "{column} is neither true nor false.",
        "Write true or false.",
    ),
    _aside(
        "too_small",
        "Too small",
        "{column} is less than {limit}.",
        "Check the number: {column} starts at {limit}.",
    ),
    _aside(
        "too_large",
        "Too large",
        "{column} is more than {limit}.",
        "Check the number and its unit: {column} ends at {limit}.",
    ),
    _aside(
        "too_short",
        "Too short",
        "{column} has fewer than {limit} characters.",
        "Check that the cell was not cut off.",
    ),
    _aside(
        "too_long",
        "Too long",
        "{column} has more than {limit} characters.",
        "Shorten it to {limit} characters or fewer.",
    ),
    _aside(
        "bad_pattern",
        "Not in the agreed form",
        "{column} is not in the agreed form.",
        "See the description of {column} for the form, with an example.",
    ),
    _aside(
        "unknown_code",
        "A code that is not on the list",
        "{column} is not one of the codes agreed.{nearest}",
        "Use one of: {allowed}.",
    ),
    _aside(
        "scientific_notation",
        "A key turned into a number",
        "The key in {column} was turned into a number such as 1.23E+11 by a spreadsheet.",
        "Set the column's format to Text, type the whole key again and save.",
    ),
    _aside(
        "leading_zero_lost",
        "The zero in front was lost",
        "{column} has lost the zero in front.{nearest}",
        "Set the column's format to Text and put the zero back (01, not 1).",
    ),
    _aside(
        "space_or_case_in_key",
        "A space or a capital too many in a key",
        "The key in {column} has a space too many or a capital that differs.{nearest}",
        "Write the key letter for letter as in the file that it comes from, without spaces around.",
    ),
    _aside(
        "two_digit_year",
        "A year with two digits",
        "{column} is a date with a two-digit year, which can be read in several ways.",
        "Write the whole date as 2026-05-31.",
    ),
    _aside(
        "spreadsheet_date",
        "A spreadsheet's day number",
        "{column} holds a spreadsheet's day number instead of a date.",
        "Set the column's format to yyyy-mm-dd and save again.",
    ),
    _aside(
        "percent_for_count",
        "A percent where a count belongs",
        "{column} holds a percent sign; a plain number is expected.",
        "Write the number itself, without the percent sign.",
    ),
    _aside(
        "formula_in_cell",
        "A formula in a cell",
        "{column} holds a formula instead of its result.",
        "Copy the cells and paste them back as values only, then save.",
    ),
)

_ACROSS = (
    _aside(
        "future_date",
        "A day that has not come yet",
        "{column} lies after the day on which the file was received.",
        "Correct the date, or send the row once the day has passed.",
    ),
    _aside(
        "closed_day",
        "A day on which the class was not in school",
        "On this day the class was not in school, by the calendar.",
        "Correct the date; if school was open, correct the calendar or release the row.",
        PERSON,
    ),
    _aside(
        "duplicate_key",
        "Two rows with one key",
        "Two rows of this file have the same key and say different things.",
        "Give each its own key, or take the wrong one out.",
    ),
    _aside(
        "key_reused",
        "One thing under two keys",
        "Another row says exactly the same under another key.{detail}",
        "Take one of the two out; if they are really two, release the row.",
        PERSON,
    ),
    _aside(
        "unknown_reference",
        "A key that is not known",
        "{column} names something that was never sent.{nearest}",
        "Send the file that holds it, or correct the key; then load this file again.",
        PERSON,
    ),
    GenericRule(
        "duplicate_upload",
        "Already here",
        KNOWN,
        PERSON,
        "The whole file was here before; nothing was changed.",
        "Nothing to do.",
    ),
)

GENERIC_RULES: Mapping[str, GenericRule] = MappingProxyType(
    {rule.name: rule for rule in (*_FILE, *_ROW_SHAPE, *_CELL, *_ACROSS)}
)


def fill(template: str, values: Mapping[str, str]) -> str:
    """Put values in the places `{name}` of a template; other braces stay as they are."""
    for name, value in values.items():
        template = template.replace("{" + name + "}", value)
    return template


def generic(
    rule: str,
    file_name: str,
    *,
    line: int | None = None,
    column: str | None = None,
    value: str | None = None,
    detail: str = "",
    count: int = 1,
) -> Finding:
    """A finding of a generic rule, its message and remedy filled in."""
    one = GENERIC_RULES[rule]
    values = {"column": column or "", "detail": detail, "nearest": "", "limit": "", "allowed": ""}
    message, remedy = fill(one.message, values), fill(one.remedy, values)
    return Finding(rule, one.verdict, file_name, line, column, value, message, remedy, count)
