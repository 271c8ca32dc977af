"""Where our check of a cell and the Table Schema library must agree, and how each is asked."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import duckdb
import yaml
from frictionless import Resource, Schema

from ingest import contracts as package
from ingest.compile import compile_table
from ingest.contracts import Contract, Field
from ingest.findings import GENERIC_RULES
from ingest.readers.table import Table

FEEDS = Path(package.__file__).parent / "feeds"
# No cell lies in the future of this day: `future_date` is no matter of one field alone.
RECEIVED_ON = "date '9999-12-31'"
Faulty = set[tuple[int, str]]

_HYGIENE = re.compile(r"=|\s|.*\s$|.*[\x00-\x1f\x7f]", re.DOTALL)
_SPREADSHEET_NUMBER = re.compile(r"\d([.,]\d+)?[eE]\+\d+")
_ASCII_DIGITS = re.compile(r"[+-]?\d{1,18}", re.ASCII)
_DECIMAL = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
_DATE = re.compile(r"(?!0000)\d{4}-\d{2}-\d{2}", re.ASCII)
_TIME = re.compile(r"\d{2}:\d{2}(:\d{2})?", re.ASCII)
_MOMENT = re.compile(
    r"(?!0000)\d{4}-\d{2}-\d{2}T(?!24)\d{2}:\d{2}:\d{2}(Z|[+-](0\d|1[0-4]):[0-5]\d)", re.ASCII
)
_WORD = re.compile(r"[b-hj-mo-z]+")  # no digit, and neither nan nor infinity


def is_compared(field: Field, cell: str) -> bool:
    """Whether both must say the same of this cell.

    The forms that are left out are those of docs/decisions/0010-stricter-than-table-schema.md.
    """
    if cell == "" or field.type == "boolean":
        return True
    if _HYGIENE.match(cell):
        return False
    if field.type == "string":
        return _is_compared_text(field, cell)
    forms = {
        "integer": (_ASCII_DIGITS, _WORD),
        "number": (_DECIMAL, _WORD),
        "date": (_DATE, _WORD),
        "time": (_TIME,),
        "datetime": (_MOMENT, _WORD),
    }[field.type]
    return any(one.fullmatch(cell) for one in forms)


def _is_compared_text(field: Field, cell: str) -> bool:
    if field.is_key and _SPREADSHEET_NUMBER.fullmatch(cell):
        return False
    if field.item_enum:
        return all(item in field.item_enum for item in cell.split(";"))
    return cell not in field.alias


def ours(contract: Contract, rows: Sequence[Sequence[str]], folder: Path) -> Faulty:
    """(row, field) of every cell that our compiled check finds fault with; rows from 0."""
    path = folder / f"{contract.name}.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([contract.field_names, *rows])
    table = Table(contract.name, path.name, "0" * 64, path, ",", contract.field_names)
    compiled = compile_table(contract, table, RECEIVED_ON)
    codes = {str(one.number): one for one in compiled.codes if one.rule in GENERIC_RULES}
    with duckdb.connect(config={"threads": 1}) as con:
        con.execute("set TimeZone = 'UTC'")
        found = con.execute(compiled.told).fetchall()
    assert len(found) == len(rows)
    reasons = [text.split(";") for (text,) in found]
    return {
        (number, str(codes[one].column))
        for number, numbers in enumerate(reasons)
        for one in numbers
        if one in codes
    }


@lru_cache
def schema_of(feed: str) -> dict[str, Any]:
    """The Table Schema part of a contract, as the file has it."""
    schema = yaml.safe_load((FEEDS / f"{feed}.yml").read_text("utf-8"))["schema"]
    assert isinstance(schema, dict)
    return schema


def theirs(schema: dict[str, Any], header: Sequence[str], rows: Sequence[Sequence[str]]) -> Faulty:
    """(row, field) of every cell with a type or constraint error by the library; rows from 0.

    References to other feeds are left out: they are no matter of one field alone.
    """
    fields_only = {name: one for name, one in schema.items() if name != "foreignKeys"}
    resource = Resource(
        data=[list(header), *map(list, rows)], schema=Schema.from_descriptor(fields_only)
    )
    found = resource.validate().flatten(["rowNumber", "fieldName", "type"])
    return {
        (row - 2, field) for row, field, kind in found if kind in ("type-error", "constraint-error")
    }
