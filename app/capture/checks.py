"""One record against its contract, before it is written: what the door would find in its cells.

The door checks everything once more, with the rules that look at other rows; this is so that a
person hears of a slip while the form is still before her.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Set
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, time

from ingest.contracts import Contract, Field

Record = Mapping[str, str]
# Keys that are known, by feed: those of the snapshot that the form was filled in beside.
Known = Mapping[str, Set[str]]
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_TIME = re.compile(r"\d{2}:\d{2}(:\d{2})?", re.ASCII)
_MOMENT = re.compile(
    r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:\d{2})", re.ASCII
)
_WHOLE = re.compile(r"[+-]?\d{1,18}", re.ASCII)
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)", re.ASCII)
_TRUTH = re.compile(r"true|false")
_SCIENTIFIC = re.compile(r"\d([.,]\d+)?[eE]\+\d+", re.ASCII)


@dataclass(frozen=True)
class Fault:
    """What is not right with one field: the name of a rule, and the bound it rests on."""

    field: str
    rule: str
    bound: str = ""


def faults_of(contract: Contract, record: Record, known: Known) -> tuple[Fault, ...]:
    """Everything that is not right with a record; none when it may be written."""
    strangers = [
        Fault(name, "unknown_column") for name in record if name not in contract.field_names
    ]
    cells = [
        fault for field in contract.fields for fault in _cell(field, record.get(field.name, ""))
    ]
    return (*strangers, *cells, *_references(contract, record, known))


def _cell(field: Field, value: str) -> Iterator[Fault]:
    if not value.strip():
        if field.is_required:
            yield Fault(field.name, "missing_value")
        return
    if not value.isprintable():
        yield Fault(field.name, "odd_character")
    elif value.startswith("="):
        yield Fault(field.name, "formula_in_cell")
    elif value != value.strip() or (field.is_key and _SCIENTIFIC.fullmatch(value)):
        yield Fault(field.name, "space_or_case_in_key")
    elif not _FORMS[field.type](value):
        yield Fault(field.name, f"not_{field.type}")
    else:
        yield from _bounds(field, value)


def _bounds(field: Field, value: str) -> Iterator[Fault]:
    if field.enum and value not in field.enum:
        yield Fault(field.name, "unknown_code")
    if field.max_length is not None and len(value) > field.max_length:
        yield Fault(field.name, "too_long", str(field.max_length))
    if field.min_length is not None and len(value) < field.min_length:
        yield Fault(field.name, "too_short", str(field.min_length))
    if field.pattern and not re.fullmatch(field.pattern, value):
        yield Fault(field.name, "bad_pattern")
    if field.type in ("integer", "number"):
        if field.minimum is not None and float(value) < float(field.minimum):
            yield Fault(field.name, "too_small", str(field.minimum))
        if field.maximum is not None and float(value) > float(field.maximum):
            yield Fault(field.name, "too_large", str(field.maximum))


def _references(contract: Contract, record: Record, known: Known) -> Iterator[Fault]:
    for key in contract.foreign_keys:
        if len(key.fields) != 1 or key.resource not in known:
            continue
        value = record.get(key.fields[0], "")
        if value and value not in known[key.resource]:
            yield Fault(key.fields[0], "unknown_reference")


def _readable(form: re.Pattern[str], read: Callable[[str], object]) -> Callable[[str], bool]:
    def is_good(value: str) -> bool:
        with suppress(ValueError):
            return form.fullmatch(value) is not None and read(value) is not None
        return False

    return is_good


_FORMS: Mapping[str, Callable[[str], bool]] = {
    "string": lambda value: True,
    "integer": _readable(_WHOLE, int),
    "number": _readable(_NUMBER, float),
    "date": _readable(_DATE, date.fromisoformat),
    "time": _readable(_TIME, time.fromisoformat),
    "datetime": _readable(_MOMENT, datetime.fromisoformat),
    "boolean": lambda value: _TRUTH.fullmatch(value) is not None,
}
