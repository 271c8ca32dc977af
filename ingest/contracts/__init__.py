"""The contracts of all feeds, read from `feeds/*.yml`; each file is checked before it is believed.

A contract is closed: a word in it that is not known here stops the load, so that a slip of the pen
never silently switches a check off.
"""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import as_file, files
from pathlib import Path
from types import MappingProxyType
from typing import Any

import yaml

from ingest.contracts.model import FIELD_TYPES, VOIDED, Contract, Field, ForeignKey, Rule
from ingest.contracts.shape import CONTRACT_SHAPE, ContractError, check_shape

__all__ = ["Contract", "ContractError", "Field", "ForeignKey", "Rule", "load_contracts"]

_CONSTRAINTS = {
    "required": "is_required",
    "unique": "is_unique",
    "minimum": "minimum",
    "maximum": "maximum",
    "minLength": "min_length",
    "maxLength": "max_length",
    "pattern": "pattern",
}
_EXTRAS = {
    "list": "is_list",
    "key": "is_key",
    "private": "is_private",
    "optional": "is_optional",
    "event_date": "is_event_date",
}


def load_contracts(folder: Path | None = None) -> Mapping[str, Contract]:
    """All contracts by name, in load order. Without a folder: those of the package.

    Raises `ContractError` naming the file and the word that is not right.
    """
    if folder is not None:
        return _load(folder)
    with as_file(files("ingest.contracts") / "feeds") as feeds:
        return _load(feeds)


@lru_cache(maxsize=8)
def _load(folder: Path) -> Mapping[str, Contract]:
    contracts = [_read(path) for path in sorted(folder.glob("*.yml"))]
    contracts.sort(key=lambda one: (one.load_order, one.name))
    found = {one.name: one for one in contracts}
    _check_references(found)
    _check_rule_names(contracts)
    return MappingProxyType(found)


def _read(path: Path) -> Contract:
    try:
        raw = yaml.safe_load(path.read_text(encoding="utf-8"))
    except yaml.YAMLError as fault:
        raise ContractError(path.name, f"it is not valid YAML: {fault}") from fault
    check_shape(raw, CONTRACT_SHAPE, path.name)
    if raw["name"] != path.stem:
        raise ContractError(path.name, f"name is {raw['name']!r}, the file says {path.stem!r}")
    contract = _contract(raw)
    _check_inside(contract, path.name)
    return contract


def _contract(raw: Mapping[str, Any]) -> Contract:
    schema, own = raw["schema"], raw["roundelay"]
    return Contract(
        name=raw["name"],
        title=raw["title"],
        description=raw["description"].strip(),
        fields=_fields(schema["fields"], own.get("can_void", False)),
        primary_key=_names(schema["primaryKey"]),
        foreign_keys=tuple(_foreign_key(one, raw["name"]) for one in schema.get("foreignKeys", ())),
        missing_values=tuple(schema.get("missingValues", ("",))),
        version=str(own["version"]),
        load_order=own["load_order"],
        group=own["group"],
        can_void=own.get("can_void", False),
        free_text=own.get("free_text", True),
        content_identifies=own.get("content_identifies", False),
        rules=tuple(_rule(one) for one in own.get("rules") or ()),
    )


def _names(given: str | list[str]) -> tuple[str, ...]:
    return (given,) if isinstance(given, str) else tuple(given)


def _fields(given: list[Mapping[str, Any]], can_void: bool) -> tuple[Field, ...]:
    fields = [_field(one) for one in given]
    if can_void and VOIDED not in [one.name for one in fields]:
        text = "true takes back an earlier row with the same key"
        fields.append(Field(VOIDED, "boolean", "Voided", text, "false", is_optional=True))
    return tuple(fields)


def _field(given: Mapping[str, Any]) -> Field:
    values: dict[str, Any] = {
        name: str(given[name]).strip() for name in ("title", "description") if name in given
    }
    constraints = given.get("constraints", {})
    values |= {own: constraints[name] for name, own in _CONSTRAINTS.items() if name in constraints}
    values |= {own: given[name] for name, own in _EXTRAS.items() if name in given}
    return Field(
        name=given["name"],
        type=given.get("type", "string"),
        example=_example(given.get("example", "")),
        enum=tuple(str(one) for one in constraints.get("enum", ())),
        item_enum=tuple(str(one) for one in given.get("item_enum", ())),
        alias=MappingProxyType({str(k): str(v) for k, v in given.get("alias", {}).items()}),
        **values,
    )


def _example(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _foreign_key(given: Mapping[str, Any], own_name: str) -> ForeignKey:
    reference = given["reference"]
    resource = reference.get("resource") or own_name
    return ForeignKey(
        _names(given["fields"]),
        resource,
        _names(reference["fields"]),
        given.get("when_loaded", False),
        given.get("part_of", False),
    )


def _rule(given: Mapping[str, Any]) -> Rule:
    return Rule(
        name=given["name"],
        kind=given["kind"],
        verdict=given["verdict"],
        release=given.get("release", "correction"),
        columns=_names(given.get("columns", [])),
        message=given["message"].strip(),
        remedy=given["remedy"].strip(),
        sql=given["sql"].strip().rstrip(";"),
    )


def _check_inside(contract: Contract, place: str) -> None:
    names = contract.field_names
    if len(set(names)) != len(names):
        raise ContractError(place, "a field name stands twice")
    for one in contract.fields:
        if one.type not in FIELD_TYPES:
            raise ContractError(place, f"field {one.name}: type {one.type!r} is not known")
    used = [*contract.primary_key, *(name for key in contract.foreign_keys for name in key.fields)]
    used += [name for rule in contract.rules for name in rule.columns]
    for name in used:
        if name not in names:
            raise ContractError(place, f"{name!r} is not a field of this feed")
    for name in contract.primary_key:
        if contract.field(name).is_private:
            raise ContractError(place, f"{name!r} is private and cannot be part of the key")
    if len([one for one in contract.fields if one.is_event_date]) > 1:
        raise ContractError(place, "more than one field is marked event_date")


def _check_references(contracts: Mapping[str, Contract]) -> None:
    for contract in contracts.values():
        for key in contract.foreign_keys:
            place = f"{contract.name}.yml"
            target = contracts.get(key.resource)
            if target is None:
                raise ContractError(place, f"it refers to {key.resource!r}, which has no contract")
            if len(key.fields) != len(key.reference_fields):
                raise ContractError(
                    place, f"{key.fields} and {key.reference_fields} differ in number"
                )
            for name in key.reference_fields:
                if name not in target.field_names:
                    raise ContractError(place, f"{key.resource} has no field {name!r}")


def _check_rule_names(contracts: list[Contract]) -> None:
    seen: dict[str, str] = {}
    for contract in contracts:
        for rule in contract.rules:
            if rule.name in seen:
                text = f"rule {rule.name!r} stands in {seen[rule.name]} too"
                raise ContractError(f"{contract.name}.yml", text)
            seen[rule.name] = contract.name
