"""A feed as a sheet of paper asks for it: titles and codes from the contract, said once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.capture.forms import contract_of
from ingest.contracts import Field

# How much room handwriting needs, by type; plain text needs most.
_WIDTHS = {
    "integer": 0.82,
    "number": 0.82,
    "boolean": 1.05,
    "time": 0.9,
    "date": 1.1,
    "datetime": 1.6,
}
_CODE, _KEY, _TEXT = 1.35, 1.45, 1.7


@dataclass(frozen=True)
class Column:
    """One column: its name in the file, its words, its codes, and its share of the room."""

    name: str
    title: str
    description: str
    is_needed: bool
    codes: tuple[str, ...]
    width: float


@dataclass(frozen=True)
class Sheet:
    """A feed on paper: its title, what is filled in by hand and what is left to the office."""

    feed: str
    title: str
    columns: tuple[Column, ...]
    left: tuple[Column, ...]


def sheet_of(feed: str, left: Sequence[str]) -> Sheet:
    """The columns of a feed in the order of the file; those named in `left` stand apart.

    Columns that a file may leave out are not asked for. `KeyError` when there is no such feed or
    column, so that one that was renamed is never left out unseen.
    """
    contract = contract_of(feed)
    by_hand = (one for one in contract.fields if one.name not in left and not one.is_optional)
    return Sheet(
        feed,
        contract.title,
        tuple(_column(one) for one in by_hand),
        tuple(_column(contract.field(name)) for name in left),
    )


def _column(field: Field) -> Column:
    codes = ("true", "false") if field.type == "boolean" else field.enum
    return Column(
        field.name, field.title, field.description, field.is_required, codes, _width(field)
    )


def _width(field: Field) -> float:
    if field.enum:
        return _CODE
    return _WIDTHS.get(field.type, _KEY if field.is_key else _TEXT)
