"""Which words a contract file may use, and a checker that refuses every other word."""

from collections.abc import Mapping
from typing import Any

from ingest.errors import Problem


class ContractError(Problem):
    """A contract file is not as a contract must be: a fault of the package, not of a school."""

    def __init__(self, place: str, rule: str) -> None:
        super().__init__(
            "A contract of this package cannot be used.",
            where=place,
            rule=rule,
            remedy="correct the contract file; DEVELOPERS.md says what it may contain",
        )


# Each shape: word -> (is it required, allowed Python types, shape of what it holds or None).
Shape = Mapping[str, tuple[bool, tuple[type, ...], Any]]

_TEXT, _FLAG, _LIST, _MAP = (str,), (bool,), (list,), (dict,)
_NAMES = (str, list)
_BOUND = (int, float, str)

_CONSTRAINTS: Shape = {
    "required": (False, _FLAG, None),
    "unique": (False, _FLAG, None),
    "minimum": (False, _BOUND, None),
    "maximum": (False, _BOUND, None),
    "minLength": (False, (int,), None),
    "maxLength": (False, (int,), None),
    "pattern": (False, _TEXT, None),
    "enum": (False, _LIST, None),
}
_FIELD: Shape = {
    "name": (True, _TEXT, None),
    "type": (True, _TEXT, None),
    "format": (False, _TEXT, None),
    "title": (False, _TEXT, None),
    "description": (False, _TEXT, None),
    "example": (False, (str, int, float, bool), None),
    "constraints": (False, _MAP, _CONSTRAINTS),
    "list": (False, _FLAG, None),
    "item_enum": (False, _LIST, None),
    "key": (False, _FLAG, None),
    "alias": (False, _MAP, None),
    "private": (False, _FLAG, None),
    "optional": (False, _FLAG, None),
    "event_date": (False, _FLAG, None),
}
_FOREIGN_KEY: Shape = {
    "fields": (True, _NAMES, None),
    "when_loaded": (False, _FLAG, None),
    "part_of": (False, _FLAG, None),
    "reference": (
        True,
        _MAP,
        {"resource": (False, _TEXT, None), "fields": (True, _NAMES, None)},
    ),
}
_RULE: Shape = {
    "name": (True, _TEXT, None),
    "kind": (True, _TEXT, None),
    "verdict": (True, _TEXT, None),
    "release": (False, _TEXT, None),
    "columns": (False, _NAMES, None),
    "message": (True, _TEXT, None),
    "remedy": (True, _TEXT, None),
    "sql": (True, _TEXT, None),
}
_SCHEMA: Shape = {
    "fields": (True, _LIST, _FIELD),
    "primaryKey": (True, _NAMES, None),
    "foreignKeys": (False, _LIST, _FOREIGN_KEY),
    "missingValues": (False, _LIST, None),
}
_OWN: Shape = {
    "version": (True, (str, int), None),
    "load_order": (True, (int,), None),
    "group": (True, _TEXT, None),
    "can_void": (False, _FLAG, None),
    "free_text": (False, _FLAG, None),
    "content_identifies": (False, _FLAG, None),
    "rules": (False, (list, type(None)), _RULE),
}
CONTRACT_SHAPE: Shape = {
    "name": (True, _TEXT, None),
    "title": (True, _TEXT, None),
    "description": (True, _TEXT, None),
    "schema": (True, _MAP, _SCHEMA),
    "roundelay": (True, _MAP, _OWN),
}
_CHOICES = {
    "kind": ("row", "rows", "file"),
    "verdict": ("refuse", "quarantine", "warn"),
    "release": ("correction", "person"),
    "group": ("roster", "calendar", "definitions", "classroom", "supports"),
}


def check_shape(given: object, shape: Shape, place: str) -> None:
    """Raise `ContractError` for a missing word, a word not known, or a value of the wrong kind."""
    if not isinstance(given, dict):
        raise ContractError(place, "here a set of words with values is expected")
    for word in given:
        if word not in shape:
            known = ", ".join(shape)
            raise ContractError(place, f"the word {word!r} is not known; known are: {known}")
    for word, (is_required, kinds, inner) in shape.items():
        if word in given:
            _check_value(given[word], word, kinds, inner, f"{place}: {_label(given)}{word}")
        elif is_required:
            raise ContractError(place, f"{_label(given)}the word {word!r} is missing")


def _label(given: Mapping[str, Any]) -> str:
    return f"{given['name']}: " if isinstance(given.get("name"), str) else ""


def _check_value(
    value: object, word: str, kinds: tuple[type, ...], inner: Shape | None, place: str
) -> None:
    if not isinstance(value, kinds) or (isinstance(value, bool) and bool not in kinds):
        names = " or ".join(kind.__name__ for kind in kinds)
        raise ContractError(place, f"it must be {names}, not {value!r}")
    if word in _CHOICES and value not in _CHOICES[word]:
        raise ContractError(place, f"{value!r} is not one of {', '.join(_CHOICES[word])}")
    if inner is None or value is None:
        return
    for one in value if isinstance(value, list) else [value]:
        check_shape(one, inner, place)
