"""Our compiled check and the frictionless library say the same of every field of every feed."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from frictionless import Schema
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from ingest.contracts import Field, load_contracts
from ingest.contracts.model import Contract
from tests.ingest.contracts.agreement import is_compared, ours, schema_of, theirs

CONTRACTS = load_contracts()
# Few examples of many rows: planning the check costs more than running it. No shrinking: a failure
# names the row and the field as it is.
QUICK = settings(
    max_examples=8,
    deadline=None,
    derandomize=True,
    database=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
_TEXT = st.text(
    st.characters(min_codepoint=32, exclude_categories=("Cs", "Cc", "Cn", "Zl", "Zp")), max_size=6
)
_NEAR = {
    "string": ("x" * 120, "x" * 121, "y" * 300, "y" * 301, "é" * 255, "é" * 256, "N/A", "-", "B3",
               "7777", "2025-09-01;2025-09-08", "2025-9-1"),
    "integer": ("0", "-1", "7", "+5", "007", "3", "60", "61", "600", "9999", "10000", "ten"),
    "number": ("0", "0.5", "0.49", ".5", "60", "60.01", "600", "1", "1.01", "2.5", "-0.1", "ten"),
    "date": ("2025-02-28", "2025-02-30", "2024-02-29", "2025-13-01", "2025-00-10", "0001-01-01",
             "yesterday"),
    "time": ("09:05", "09:05:30", "23:59:59", "24:00", "12:60", "12:00:60", "00:00"),
    "datetime": ("2025-09-03T15:10:00Z", "2025-09-03T15:10:00+01:00", "2025-02-30T15:10:00Z",
                 "2025-09-03T25:00:00Z", "2025-09-03T15:61:00Z", "2025-09-03T15:10:61-05:00"),
    "boolean": ("true", "TRUE", "True", "1", "false", "False", "FALSE", "0", "yes", "t", "tRUE",
                "on", " true", "2"),
}  # fmt: skip
_FORMED = {
    "integer": st.integers(-99, 99_999).map(str),
    "number": st.decimals(-10, 4000, places=2).map(str),
    "date": st.dates().map(lambda day: day.isoformat()),
    "time": st.times().map(lambda time: time.strftime("%H:%M:%S")),
    "datetime": st.datetimes().map(lambda at: f"{at:%Y-%m-%dT%H:%M:%S}+02:00".rjust(25, "0")),
}


def cells(field: Field) -> st.SearchStrategy[str]:
    """Good and bad cells of one field, where the two checks must agree."""
    fixed = ["", field.example, *_NEAR[field.type], *field.enum]
    choices = [st.sampled_from([cell for cell in fixed if is_compared(field, cell)])]
    if field.type == "string":
        choices.append(_TEXT.filter(lambda cell: is_compared(field, cell)))
    if field.item_enum:
        choices[1:] = [st.lists(st.sampled_from(field.item_enum), min_size=1).map(";".join)]
    if field.type in _FORMED:
        choices.append(_FORMED[field.type])
    return st.one_of(choices)


def rows(contract: Contract) -> st.SearchStrategy[list[tuple[str, ...]]]:
    """A few rows, none of them wholly empty (a reader takes such a row for no row)."""
    row = st.tuples(*(cells(one) for one in contract.fields)).filter(any)
    return st.lists(row, min_size=6, max_size=12)


def _cell(contract: Contract, given_rows: Sequence[Sequence[str]], at: tuple[int, str]) -> str:
    return given_rows[at[0]][contract.field_names.index(at[1])]


@pytest.mark.parametrize("feed", sorted(CONTRACTS))
@QUICK
@given(data=st.data())
def test_each_field_gets_the_same_verdict_from_both(feed: str, data: st.DataObject) -> None:
    contract = CONTRACTS[feed]
    given_rows = data.draw(rows(contract))

    with tempfile.TemporaryDirectory() as folder:
        found = ours(contract, given_rows, Path(folder))

    expected = theirs(schema_of(feed), contract.field_names, given_rows)
    assert {at: _cell(contract, given_rows, at) for at in found ^ expected} == {}


@pytest.mark.parametrize("feed", sorted(CONTRACTS))
def test_the_contract_is_a_valid_table_schema_with_the_fields_we_load(feed: str) -> None:
    schema = Schema.from_descriptor(schema_of(feed))

    assert tuple(schema.field_names) == CONTRACTS[feed].field_names
    assert tuple(schema.primary_key) == CONTRACTS[feed].primary_key


# (type, what else the field says, cell, our verdict, the library's); see the decision record.
DIFFERENCES: tuple[tuple[str, dict[str, Any], str, bool, bool], ...] = (
    ("integer", {}, " 3", False, True),
    ("integer", {}, "1_000", False, True),
    ("integer", {}, "٣", False, True),
    ("integer", {}, "1" * 20, False, True),
    ("number", {}, "nan", False, True),
    ("number", {}, "INF", False, True),
    ("number", {}, "1_0.5", False, True),
    ("date", {}, "2025-9-3", False, True),
    ("date", {}, "0000-01-01", True, False),
    ("time", {"format": "any"}, "3pm", False, True),
    ("time", {"format": "any"}, "9:05", False, True),
    ("time", {"format": "any"}, "09:05:30.5", False, True),
    ("datetime", {}, "2025-09-03T15:10:00", False, True),
    ("datetime", {}, "2025-09-03 15:10:00+01:00", False, True),
    ("datetime", {}, "2025-09-03T15:10:00+0100", False, True),
    ("datetime", {}, "2025-09-03T24:00:00Z", False, True),
    ("datetime", {}, "2025-09-03T15:10+01:00", True, False),
    ("string", {}, "=1+1", False, True),
    ("string", {"constraints": {"required": True}}, "  ", False, True),
    ("string", {"key": True}, "qb-willow ", False, True),
    ("string", {"key": True}, "1.23E+11", False, True),
    ("string", {"list": True, "item_enum": ["01"]}, "02", False, True),
    ("string", {"alias": {"K": "KG"}, "constraints": {"enum": ["KG"]}}, "K", True, False),
)  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "more", "cell", "is_good", "is_good_there"),
    DIFFERENCES,
    ids=[f"{one[0]} {one[2][:12]!r}" for one in DIFFERENCES],
)
def test_each_difference_is_as_the_decision_record_says(
    kind: str, more: dict[str, Any], cell: str, is_good: bool, is_good_there: bool,
    tmp_path: Path,
) -> None:  # fmt: skip
    constraints = more.get("constraints", {})
    assert isinstance(constraints, dict)
    field = Field(
        "cell",
        kind,
        is_key=bool(more.get("key")),
        is_list=bool(more.get("list")),
        is_required=bool(constraints.get("required")),
        enum=tuple(constraints.get("enum", ())),
        item_enum=tuple(more.get("item_enum", ())),
        alias=dict(more.get("alias", {})),
    )
    contract = Contract("cells", "", "", (Field("number"), field), ("number",))
    schema = {
        "fields": [{"name": "number", "type": "string"}, {"name": "cell", "type": kind} | more]
    }

    assert (ours(contract, [("1", cell)], tmp_path) == set()) == is_good
    assert (theirs(schema, ("number", "cell"), [("1", cell)]) == set()) == is_good_there
    assert not is_compared(field, cell)
