"""The rules that follow from the form of a file or look across rows, in a clerk's words."""

from collections.abc import Mapping
from types import MappingProxyType

from ingest.findings_cells import CELL_RULES
from ingest.findings_kinds import KNOWN, PERSON, GenericRule, aside, refuse

_FILE = (
    refuse(
        "unknown_feed",
        "Not one of our tables",
        "Neither the name nor the first line of this file says which table it is.",
        "Name the file after its table, such as routine_lessons.csv, or start from a blank sheet.",
    ),
    refuse(
        "unreadable_file",
        "The file cannot be opened",
        "The file cannot be opened: {detail}",
        "Open it in the program that made it, save it again (without a password) and send that.",
    ),
    refuse(
        "unsafe_archive",
        "The zip is not safe to open",
        "The zip is not opened: {detail}",
        "Zip only the .csv or .xlsx files themselves, without folders or further zips.",
    ),
    refuse(
        "wrong_encoding",
        "Not saved as UTF-8",
        "The file is not saved as UTF-8 text, so letters such as é would come out wrong.",
        "Save it again as 'CSV UTF-8 (comma delimited)'.",
    ),
    refuse(
        "wrong_delimiter",
        "Wrong separator",
        "The columns are not separated by a comma, a semicolon or a tab.",
        "Save the file again as CSV with commas.",
    ),
    refuse(
        "missing_column",
        "A column is missing",
        "The column {column} is missing.",
        "Add the column {column} with exactly this name; its cells may be empty if it is optional.",
    ),
    refuse(
        "unknown_column",
        "A column is not known",
        "The column {column} is not one of this table.{detail}",
        "Take the column out, or give it the name that the table's description uses.",
    ),
    refuse(
        "duplicate_column",
        "A column stands twice",
        "The column {column} stands twice in the first line.",
        "Keep one of the two and take the other out.",
    ),
    refuse(
        "nul_byte",
        "Damaged text",
        "The file holds a NUL byte, which no text has: it is damaged or is not a text file.",
        "Save it again from the program it came from; do not rename an .xlsx file to .csv.",
    ),
    refuse(
        "unclosed_quote",
        "A quotation mark is not closed",
        "A quotation mark is opened and not closed, so the rows after it run together.",
        'Close the quotation mark; inside a quoted cell, write it twice ("").',
    ),
    refuse(
        "empty_file",
        "Nothing in the file",
        "There are no rows in this file.",
        "Check that the right file was saved; a table without rows need not be sent.",
    ),
    refuse(
        "date_order_swapped",
        "Day and month are the other way round",
        "The dates in {column} are not written year-month-day, in the whole file.",
        "Set the column's format to yyyy-mm-dd (2026-05-31) and save the file again.",
    ),
    refuse(
        "names_for_keys",
        "Names where keys belong",
        "Most cells of {column} look like people's names, not keys.",
        "Put the key from the roster in {column} (such as pu-0417). Names stay in the people file.",
    ),
)

_ROW_SHAPE = (
    aside(
        "short_row",
        "Too few cells",
        "The row has fewer cells than the first line has columns.",
        "Fill in the missing cells; leave them empty rather than out.",
    ),
    aside(
        "long_row",
        "Too many cells",
        "The row has more cells than the first line has columns.",
        "A cell with a comma inside must stand in quotation marks.",
    ),
)

_ACROSS = (
    aside(
        "future_date",
        "A day that has not come yet",
        "{column} lies after the day on which the file was received.",
        "Correct the date, or send the row once the day has passed.",
    ),
    aside(
        "closed_day",
        "A day on which the class was not in school",
        "On this day the class was not in school, by the calendar.",
        "Correct the date; if school was open, correct the calendar or release the row.",
        PERSON,
    ),
    aside(
        "duplicate_key",
        "Two rows with one key",
        "Two rows of this file have the same key and say different things.",
        "Give each its own key, or take the wrong one out.",
    ),
    aside(
        "key_reused",
        "One thing under two keys",
        "Another row says exactly the same under another key.{detail}",
        "Take one of the two out; if they are really two, release the row.",
        PERSON,
    ),
    aside(
        "unknown_reference",
        "A key that is not known",
        "{column} names something that was never sent.{nearest}",
        "Send the file that holds it, or correct the key; then load this file again.",
        PERSON,
    ),
    GenericRule(
        "still_set_aside",
        "Set aside before",
        KNOWN,
        PERSON,
        "{detail} of these rows were set aside before and are still as they were.",
        "Correct them in the sheet that was written then, or release them.",
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
    {rule.name: rule for rule in (*_FILE, *_ROW_SHAPE, *CELL_RULES, *_ACROSS)}
)
