"""One field of a contract -> how its cell is typed, when it is plainly good, what can be wrong.

TRY_CAST alone is lax ('3.7' becomes 4, ' 3 ' and '1e3' and 'yes' pass), so a form is looked at
first. Looking costs: `plain` is a cheap test that is true for nearly every cell ever sent, and the
exact tests run only on the rows where it fails.
"""

from collections.abc import Callable
from dataclasses import dataclass

from ingest.compile_sql import name, text, texts
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
_SCIENTIFIC = r"[0-9]([.,][0-9]+)?[eE]\+[0-9]+"
_PLAIN_KEY = "[0-9A-Za-z][0-9A-Za-z_.:/-]*"
_CLOCK = "[0-9]{1,2}:[0-5][0-9](:[0-5][0-9])?"
_SPACED = r"(?s)([\s\p{Z}].*|.*[\s\p{Z}])"


@dataclass(frozen=True)
class Fault:
    """A condition under which the cell breaks a generic rule; the texts fill its message."""

    rule: str
    condition: str
    limit: str = ""
    allowed: tuple[str, ...] = ()


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
    faults = [*_missing(field, value), *faults, *_bounds(field, cast)]
    plains = [plain, *_plain_bounds(field, cast)]
    if field.is_event_date:
        faults.append(Fault("future_date", f"{cast} > {received_on}"))
        plains.append(f"{cast} <= {received_on}")
    cheap = " and ".join(one for one in plains if one)
    if not field.is_required:
        cheap = f"({value} is null or ({cheap}))" if cheap else "true"
    return Cell(field, typed, cheap or f"{value} is not null", tuple(faults))


def _matches(value: str, pattern: str) -> str:
    return f"regexp_full_match({value}, {text(pattern)})"


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
    named = [*_number_forms(field, value), ("not_whole", _matches(value, _NUMBER))]
    faults = _chain(value, _matches(value, _INTEGER), named, "not_a_number")
    return typed, f"cast({name(field.name)} as varchar) = {value}", faults


def _number(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as double)"
    faults = _chain(value, _matches(value, _NUMBER), _number_forms(field, value), "not_a_number")
    return typed, _matches(value, r"[0-9]{1,18}(\.[0-9]+)?"), faults


def _number_forms(field: Field, value: str) -> list[tuple[str, str]]:
    forms = [("percent_for_count", _matches(value, _PERCENT))]
    if _in_minutes(field):
        forms.append(("minutes_as_clock_time", _matches(value, _CLOCK)))
    return forms


def _in_minutes(field: Field) -> bool:
    """The unit stands in a field's name."""
    return "minutes" in field.name.split("_")


def _date(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as date)"
    good = f"({_matches(value, _DATE)} and {name(field.name)} is not null)"
    named = [
        ("two_digit_year", _matches(value, _TWO_DIGIT_YEAR)),
        ("spreadsheet_date", _matches(value, _DAY_NUMBER)),
    ]
    return (
        typed,
        f"cast({name(field.name)} as varchar) = {value}",
        _chain(value, good, named, "not_a_date"),
    )


def _time(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as time)"
    plain = (
        f"strlen({value}) = 8 and {value} < '24' and cast({name(field.name)} as varchar) = {value}"
    )
    return typed, plain, _chain(value, _matches(value, _TIME), [], "not_a_time")


def _datetime(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"try_cast({value} as timestamptz)"
    good = f"({_matches(value, _MOMENT)} and {name(field.name)} is not null)"
    plain = (
        f"({value} like '____-__-__T__:__:__Z' or {value} like '____-__-__T__:__:__+__:__')"
        f" and substr({value}, 12, 2) < '24' and {name(field.name)} is not null"
    )
    return typed, plain, _chain(value, good, [], "not_a_moment")


def _boolean(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    typed = f"case when {value} in ({texts(TRUE_WORDS)}) then true when {value} is null then null"
    typed = f"({typed} else false end)"
    good = f"{value} in ({texts((*TRUE_WORDS, *FALSE_WORDS))})"
    return typed, good, _chain(value, good, [], "not_true_false")


def _string(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    codes = field.item_enum or field.enum
    faults = _key_faults(field, value) if field.is_key else []
    if not faults:
        faults = [Fault("formula_in_cell", f"starts_with({value}, '=')")]
    if codes:
        faults += _code_faults(field, value, codes)
    faults += _text_faults(field, value)
    return _typed_text(field, value), _plain_text(field, value, codes), faults


def _typed_text(field: Field, value: str) -> str:
    def alias(item: str) -> str:
        if not field.alias:
            return item
        cases = " ".join(f"when {text(a)} then {text(b)}" for a, b in field.alias.items())
        return f"case {item} {cases} else {item} end"

    if not field.is_list:
        return alias(value)
    items = f"list_transform(string_split({value}, ';'), lambda e: {alias('trim(e)')})"
    return f"array_to_string({items}, ';')"


def _plain_text(field: Field, value: str, codes: tuple[str, ...]) -> str:
    if codes:
        words = texts((*codes, *field.alias))
        return f"{value} in ({words})"
    longest = min(field.max_length or 1 << 20, 1 << 20)
    parts = [f"strlen({value}) <= {longest}"]
    if field.min_length and field.min_length > 1:
        parts.append(f"length({value}) >= {field.min_length}")
    if field.is_key:
        parts.append(_matches(value, _PLAIN_KEY))
    else:
        # At or above '!' there is no space in front; formulas begin with '='.
        parts.append(f"{value} >= '!' and not starts_with({value}, '=')")
    if field.pattern:
        parts.append(_matches(value, field.pattern))
    return " and ".join(parts)


def _key_faults(field: Field, value: str) -> list[Fault]:
    number = _matches(value, _SCIENTIFIC)
    return [
        Fault("formula_in_cell", f"starts_with({value}, '=')"),
        Fault("scientific_notation", number),
        Fault("space_or_case_in_key", f"{_matches(value, _SPACED)} and trim({value}) <> ''"),
    ]


def _code_faults(field: Field, value: str, codes: tuple[str, ...]) -> list[Fault]:
    """A code must be on the list; one that lacks only a zero in front gets its own rule."""
    allowed = texts((*codes, *field.alias))
    items = f"list_transform(string_split({value}, ';'), lambda e: trim(e))"
    if not field.is_list:
        items = f"[{value}]"
    wrong = f"list_filter({items}, lambda e: e not in ({allowed}))"
    zero = [code[1:] for code in codes if code.startswith("0") and len(code) > 1]
    bad = f"{value} is not null and not starts_with({value}, '=') and len({wrong}) > 0"
    if not zero:
        return [Fault("unknown_code", bad, allowed=codes)]
    lost = f"len(list_filter({wrong}, lambda e: e not in ({texts(zero)}))) = 0"
    return [
        Fault("leading_zero_lost", f"{bad} and {lost}", allowed=codes),
        Fault("unknown_code", f"{bad} and not {lost}", allowed=codes),
    ]


def _text_faults(field: Field, value: str) -> list[Fault]:
    faults = []
    if field.max_length is not None:
        limit = str(field.max_length)
        faults.append(Fault("too_long", f"length({value}) > {limit}", limit))
    if field.min_length is not None and field.min_length > 1:
        limit = str(field.min_length)
        faults.append(Fault("too_short", f"length({value}) < {limit}", limit))
    if field.pattern:
        faults.append(Fault("bad_pattern", f"not {_matches(value, field.pattern)}"))
    return faults


def _limit(field: Field, bound: float | str) -> str:
    if field.type in ("integer", "number"):
        return str(bound)
    return f"cast({text(str(bound))} as {field.sql_type})"


def _bounds(field: Field, typed: str) -> list[Fault]:
    faults = []
    if field.minimum is not None:
        low = _limit(field, field.minimum)
        faults.append(Fault("too_small", f"{typed} < {low}", str(field.minimum)))
    if field.maximum is not None:
        faults += _too_large(field, typed)
    return faults


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


_TYPES: dict[str, Callable[[Field, str], tuple[str, str, list[Fault]]]] = {
    "string": _string,
    "integer": _integer,
    "number": _number,
    "date": _date,
    "time": _time,
    "datetime": _datetime,
    "boolean": _boolean,
}
