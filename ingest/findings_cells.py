"""The rules for single cells, in a clerk's words."""

from ingest.findings_kinds import aside

CELL_RULES = (
    aside(
        "missing_value",
        "A needed cell is empty",
        "{column} is empty.",
        "Fill in {column}; if it is not known, leave the whole row out.",
    ),
    aside(
        "not_a_number",
        "Not a number",
        "{column} is not a number.",
        "Write digits only, with a point for decimals (2.5); no unit, no space.",
    ),
    aside(
        "not_whole",
        "Not a whole number",
        "{column} must be a whole number.",
        "Write a whole number without decimals.",
    ),
    aside(
        "not_a_date",
        "Not a date",
        "{column} is not a date written year-month-day.",
        "Write the day as 2026-05-31.",
    ),
    aside(
        "not_a_time",
        "Not a time",
        "{column} is not a time of day.",
        "Write the time as 09:05 or 09:05:30, by the 24-hour clock.",
    ),
    aside(
        "not_a_moment",
        "Not a moment",
        "{column} is not a moment with its offset from UTC.",
        "Write it as 2026-05-31T09:05:00+01:00, or with a Z at the end for UTC.",
    ),
    aside(
        "not_true_false",
        "Neither true nor false",
        "{column} is neither true nor false.",
        "Write true or false.",
    ),
    aside(
        "too_small",
        "Too small",
        "{column} is less than {limit}.",
        "Check the number: {column} starts at {limit}.",
    ),
    aside(
        "too_large",
        "Too large",
        "{column} is more than {limit}.",
        "Check the number and its unit: {column} ends at {limit}.",
    ),
    aside(
        "too_short",
        "Too short",
        "{column} has fewer than {limit} characters.",
        "Check that the cell was not cut off.",
    ),
    aside(
        "too_long",
        "Too long",
        "{column} has more than {limit} characters.",
        "Shorten it to {limit} characters or fewer.",
    ),
    aside(
        "bad_pattern",
        "Not in the agreed form",
        "{column} is not in the agreed form.",
        "See the description of {column} for the form, with an example.",
    ),
    aside(
        "unknown_code",
        "A code that is not on the list",
        "{column} is not one of the codes agreed.{nearest}",
        "Use one of: {allowed}.",
    ),
    aside(
        "scientific_notation",
        "A key turned into a number",
        "The key in {column} was turned into a number such as 1.23E+11 by a spreadsheet.",
        "Set the column's format to Text, type the whole key again and save.",
    ),
    aside(
        "leading_zero_lost",
        "The zero in front was lost",
        "{column} has lost the zero in front.{nearest}",
        "Set the column's format to Text and put the zero back (01, not 1).",
    ),
    aside(
        "space_or_case_in_key",
        "A space or a capital too many in a key",
        "The key in {column} has a space too many or a capital that differs.{nearest}",
        "Write the key letter for letter as in the file that it comes from, without spaces around.",
    ),
    aside(
        "two_digit_year",
        "A year with two digits",
        "{column} is a date with a two-digit year, which can be read in several ways.",
        "Write the whole date as 2026-05-31.",
    ),
    aside(
        "spreadsheet_date",
        "A spreadsheet's day number",
        "{column} holds a spreadsheet's day number instead of a date.",
        "Set the column's format to yyyy-mm-dd and save again.",
    ),
    aside(
        "percent_for_count",
        "A percent where a count belongs",
        "{column} holds a percent sign; a plain number is expected.",
        "Write the number itself, without the percent sign.",
    ),
    aside(
        "minutes_as_clock_time",
        "A clock time where minutes belong",
        "{column} is written like a clock (0:15); a plain number of minutes is expected.",
        "Write 15, not 0:15; set the column's format to Number first.",
    ),
    aside(
        "minutes_as_seconds",
        "Seconds where minutes belong",
        "{column} is so large that it must be seconds; minutes are expected.",
        "Divide by 60: 900 seconds are 15 minutes.",
    ),
    aside(
        "wait_in_milliseconds",
        "Milliseconds where seconds belong",
        "{column} is so large that it must be thousandths of a second; seconds are expected.",
        "Divide by 1000: 3200 milliseconds are 3.2 seconds.",
    ),
    aside(
        "formula_in_cell",
        "A formula in a cell",
        "{column} holds a formula instead of its result.",
        "Copy the cells and paste them back as values only, then save.",
    ),
)
