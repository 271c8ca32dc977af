"""One field of a contract -> how its cell is typed, when it is plainly good, what can be wrong.

TRY_CAST alone is lax ('3.7' becomes 4, ' 3 ' and '1e3' and 'yes' pass), so a form is looked at
first. Looking costs: `plain` is a cheap test that is true for nearly every cell ever sent, and the
exact tests run only on the rows where it fails.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from ingest.compile_faults import Fault, matches
from ingest.compile_sql import name, text, texts
from ingest.compile_text import compile_text
from ingest.contracts import Field

TRUE_WORDS = ("true", "True", "TRUE", "1")
FALSE_WORDS = ("false", "False", "FALSE", "0")

_INTEGER = "[+-]?[0-9]{1,18}"
_NUMBER = r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?"
_PERCENT = r"[+-]?[0-9]+([.,][0-9]+)?\s*%"
_DATE = "[0-9]{4}-[0-9]{2}-[0-9]{2}"
_TIME = r"([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?"
_MOMENT = (
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9](\.[0-9]{1,6})?)?"
    r"(Z|[+-][0-9]{2}:[0-9]{2})"
)
_TWO_DIGIT_YEAR = r"[0-9]{1,2}[/.-][0-9]{1,2}[/.-][0-9]{2}"
_DAY_NUMBER = r"[2-7][0-9]{4}(\.[0-9]+)?"
_CLOCK = "[0-9]{1,2}:[0-5][0-9](:[0-5][0-9])?"


@dataclass(frozen=True)
class Cell:
    """The SQL of one field: `typed` value, `plain` test, and every possible fault."""

    field: Field
    typed: str
    plain: str
    faults: tuple[Fault, ...]


def raw(field_name: str) -> str:
    """The text column that a field's cell is read into; empty cells are null there."""
    return name(f"raw_{field_name}")


def compile_cell(field: Field, received_on: str) -> Cell:
    """The SQL of one field. `received_on` is a SQL date for `future_date`.

    `plain` and `faults` expect the typed cell under the field's name.
    """
    value = raw(field.name)
    typed, plain, faults = _TYPES[field.type](field, value)
    # By its name: the cell is then cast once, however often it is looked at.
    cast = name(field.name)
    faults = [*_missing(field, value), *faults, *_bounds(field, value, cast)]
    plains = [plain, *_plain_bounds(field, cast)]
    if field.is_event_date:
        faults.append(Fault("future_date", f"{_in_form(field, value)} and {cast} > {received_on}"))
        plains.append(f"{cast} <= {received_on}")
    cheap = " and ".join(one for one in plains if one)
    if not field.is_required:
        cheap = f"({value} is null or ({cheap}))" if cheap else "true"
    return Cell(field, typed, cheap or f"{value} is not null", tuple(faults))


def _missing(field: Field, value: str) -> list[Fault]:
    if not field.is_required:
        return []
    return [Fault("missing_value", f"({value} is null or trim({value}) = '')")]


def _chain(value: str, good: str, named: list[tuple[str, str]], otherwise: str) -> list[Fault]:
    """At most one fault of form: a formula, then the named ones, else `otherwise`."""
    bad = f"{value} is not null and trim({value}) <> '' and not coalesce({good}, false)"
    faults, before = [], ""
    for rule, condition in [("formula_in_cell", f"starts_with({value}, '=')"), *named]:
        faults.append(Fault(rule, f"{bad}{before} and {condition}"))
        before += f" and not {condition}"
    blank = f"({value} is not null and trim({value}) = '')"
    return [*faults, Fault(otherwise, f"({blank} or ({bad}{before}))")]


def _integer(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as bigint)"
    named = [*_number_forms(field, value), ("not_whole", matches(value, _NUMBER))]
    faults = _chain(value, matches(value, _INTEGER), named, "not_a_number")
    return typed, f"cast({name(field.name)} as varchar) = {value}", faults


def _number(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as double)"
    faults = _chain(value, matches(value, _NUMBER), _number_forms(field, value), "not_a_number")
    # A digit first, no white space last, no '_': whatever else DuckDB casts is a number to us too.
    plain = (
        f"{value} >= '0' and {value} < ':' and right({value}, 1) >= '.' "
        f"and not contains({value}, '_') and {name(field.name)} is not null"
    )
    return typed, plain, faults


def _number_forms(field: Field, value: str) -> list[tuple[str, str]]:
    forms = [("percent_for_count", matches(value, _PERCENT))]
    if _in_minutes(field):
        forms.append(("minutes_as_clock_time", matches(value, _CLOCK)))
    return forms


def _in_minutes(field: Field) -> bool:
    """The unit stands in a field's name."""
    return "minutes" in field.name.split("_")


def _date(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as date)"
    good = f"({matches(value, _DATE)} and {name(field.name)} is not null)"
    named = [
        ("two_digit_year", matches(value, _TWO_DIGIT_YEAR)),
        ("spreadsheet_date", matches(value, _DAY_NUMBER)),
    ]
    return (
        typed,
        f"cast({name(field.name)} as varchar) = {value}",
        _chain(value, good, named, "not_a_date"),
    )


def _time(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as time)"
    plain = (
        f"strlen({value}) in (5, 8) and {value} < '24' "
        f"and starts_with(cast({name(field.name)} as varchar), {value})"
    )
    return typed, plain, _chain(value, matches(value, _TIME), [], "not_a_time")


def _datetime(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as timestamptz)"
    good = f"({matches(value, _MOMENT)} and {name(field.name)} is not null)"
    plain = (
        f"({value} like '____-__-__T__:__:__Z' or {value} like '____-__-__T__:__:__+__:__')"
        f" and not contains({value}, 'T24') and {name(field.name)} is not null"
    )
    return typed, plain, _chain(value, good, [], "not_a_moment")


def _boolean(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"case when {value} in ({texts(TRUE_WORDS)}) then true when {value} is null then null"
    typed = f"({typed} else false end)"
    good = f"{value} in ({texts((*TRUE_WORDS, *FALSE_WORDS))})"
    return typed, good, _chain(value, good, [], "not_true_false")


def _limit(field: Field, bound: float | str) -> str:
    if field.type in ("integer", "number"):
        return str(bound)
    return f"cast({text(str(bound))} as {field.sql_type})"


def _in_form(field: Field, value: str) -> str:
    """A cast is lax ('1e3', 'nan', 'infinity'): only a cell in the right form has a size."""
    return matches(value, _FORMS[field.type]) if field.type in _FORMS else "true"


def _bounds(field: Field, value: str, typed: str) -> list[Fault]:
    found = []
    if field.minimum is not None:
        low = _limit(field, field.minimum)
        found.append(Fault("too_small", f"{typed} < {low}", str(field.minimum)))
    if field.maximum is not None:
        found += _too_large(field, typed)
    form = _in_form(field, value)
    return [replace(one, condition=f"{form} and {one.condition}") for one in found]


def _too_large(field: Field, typed: str) -> list[Fault]:
    """Above the maximum; when another unit explains it, the rule says so instead."""
    high, limit = _limit(field, field.maximum or 0), str(field.maximum)
    over, unit, rule = f"{typed} > {high}", "", ""
    if _in_minutes(field) and field.type in ("integer", "number"):
        rule, unit = "minutes_as_seconds", f"{typed} between 2 * {high} and 60 * {high}"
    elif field.name.endswith("_seconds") and field.type in ("integer", "number"):
        rule, unit = "wait_in_milliseconds", f"{typed} between 500 and 1000 * {high}"
    if not rule:
        return [Fault("too_large", over, limit)]
    return [
        Fault(rule, f"{over} and {unit}", limit),
        Fault("too_large", f"{over} and not {unit}", limit),
    ]


def _plain_bounds(field: Field, typed: str) -> list[str]:
    low = [f"{typed} >= {_limit(field, field.minimum)}"] if field.minimum is not None else []
    high = [f"{typed} <= {_limit(field, field.maximum)}"] if field.maximum is not None else []
    return low + high


_FORMS = {
    "integer": _INTEGER,
    "number": _NUMBER,
    "date": _DATE,
    "time": _TIME,
    "datetime": _MOMENT,
}
_TYPES: dict[str, Callable[[Field, str], tuple[str, str, list[Fault]]]] = {
    "string": compile_text,
    "integer": _integer,
    "number": _number,
    "date": _date,
    "time": _time,
    "datetime": _datetime,
    "boolean": _boolean,
}
