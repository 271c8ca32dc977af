"""The verdict on single cells, and the promise of the cheap test."""

from __future__ import annotations

import duckdb
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ingest.compile_cells import compile_cell, raw
from ingest.contracts import Field

TODAY = "date '2026-05-15'"
FIELDS = {
    "integer": Field("x", "integer", minimum=0, maximum=60),
    "number": Field("x", "number", minimum=0.5, maximum=60, is_required=True),
    "date": Field("x", "date", is_event_date=True),
    "time": Field("x", "time"),
    "datetime": Field("x", "datetime"),
    "boolean": Field("x", "boolean"),
    "key": Field("x", is_key=True, is_required=True, max_length=12),
    "keys": Field("x", is_key=True, is_list=True),
    "code": Field("x", enum=("KG", "01", "02"), alias={"K": "KG"}),
    "codes": Field("x", is_list=True, item_enum=("KG", "01", "02"), alias={"K": "KG"}),
    "text": Field("x", max_length=5, pattern="[a-z ]+"),
    "minutes": Field("minutes", "number", minimum=0.5, maximum=60),
    "wait_seconds": Field("wait_seconds", "number", minimum=0, maximum=60),
}


def judged(kind: str, cells: list[str]) -> list[tuple[bool, set[str]]]:
    """For each cell: whether the cheap test passes it, and the rules it breaks."""
    field = FIELDS[kind]
    cell = compile_cell(field, TODAY)
    faults = ", ".join(f"coalesce({one.condition}, false)" for one in cell.faults)
    with duckdb.connect() as con:
        con.execute("set TimeZone = 'UTC'")
        found = con.execute(
            f"select coalesce({cell.plain}, false), [{faults}] from ("
            f"select *, {cell.typed} as {field.name} from ("
            f"select nullif(unnest($cells), '') as {raw(field.name)}))",
            {"cells": cells},
        ).fetchall()
    return [
        (plain, {one.rule for one, is_met in zip(cell.faults, met, strict=True) if is_met})
        for plain, met in found
    ]


@pytest.mark.parametrize(
    ("kind", "cell", "rules"),
    [
        ("integer", "7", set()),
        ("integer", "007", set()),
        ("integer", "", set()),
        ("integer", "3.7", {"not_whole"}),
        ("integer", "1e3", {"not_whole"}),
        ("integer", " 3 ", {"not_a_number"}),
        ("integer", "0x10", {"not_a_number"}),
        ("integer", "5 %", {"percent_for_count"}),
        ("integer", "-1", {"too_small"}),
        ("integer", "61", {"too_large"}),
        ("integer", "=1+1", {"formula_in_cell"}),
        ("integer", "99999999999999999999", {"not_whole"}),
        ("number", "2.5", set()),
        ("number", "2,5", {"not_a_number"}),
        ("number", "nan", {"not_a_number"}),
        ("number", "inf", {"not_a_number"}),
        ("number", "", {"missing_value"}),
        ("number", "  ", {"missing_value", "not_a_number"}),
        ("date", "2026-05-15", set()),
        ("date", "2026-05-16", {"future_date"}),
        ("date", "2026-02-30", {"not_a_date"}),
        ("date", "2026-5-1", {"not_a_date"}),
        ("date", "2026-05-01 ", {"not_a_date"}),
        ("date", "01/05/26", {"two_digit_year"}),
        ("date", "45901", {"spreadsheet_date"}),
        ("date", "infinity", {"not_a_date"}),
        ("time", "09:05", set()),
        ("time", "09:05:59", set()),
        ("time", "9:05", {"not_a_time"}),
        ("time", "24:00:00", {"not_a_time"}),
        ("time", "09:60", {"not_a_time"}),
        ("datetime", "2026-05-01T09:05:00Z", set()),
        ("datetime", "2026-05-01T09:05:00+01:00", set()),
        ("datetime", "2026-05-01T09:05:00.5-05:00", set()),
        ("datetime", "2026-05-01T09:05:00", {"not_a_moment"}),
        ("datetime", "2026-05-01", {"not_a_moment"}),
        ("datetime", "2026-05-01T24:00:00Z", {"not_a_moment"}),
        ("boolean", "true", set()),
        ("boolean", "FALSE", set()),
        ("boolean", "yes", {"not_true_false"}),
        ("boolean", "t", {"not_true_false"}),
        ("key", "pu-0417", set()),
        ("key", "élan 3", set()),
        ("key", "1.23E+11", {"scientific_notation"}),
        ("key", " pu", {"space_or_case_in_key"}),
        ("key", "pu\t", {"space_or_case_in_key"}),
        ("key", "pu\u00a0", {"space_or_case_in_key"}),
        ("key", "", {"missing_value"}),
        ("key", "a" * 13, {"too_long"}),
        ("keys", "s1;s2", set()),
        ("code", "KG", set()),
        ("code", "K", set()),
        ("code", "1", {"leading_zero_lost"}),
        ("code", "kg", {"unknown_code"}),
        ("codes", "KG;01", set()),
        ("codes", "K; 02", set()),
        ("codes", "KG;1", {"leading_zero_lost"}),
        ("codes", "KG;1;XX", {"unknown_code"}),
        ("text", "abc", set()),
        ("text", "abcdef", {"too_long"}),
        ("text", "ABCDEF", {"too_long", "bad_pattern"}),
        ("minutes", "0:15", {"minutes_as_clock_time"}),
        ("minutes", "900", {"minutes_as_seconds"}),
        ("minutes", "75", {"too_large"}),
        ("wait_seconds", "3200", {"wait_in_milliseconds"}),
        ("wait_seconds", "75", {"too_large"}),
    ],
)
def test_a_cell_breaks_exactly_these_rules(kind: str, cell: str, rules: set[str]) -> None:
    [(plain, found)] = judged(kind, [cell])

    assert found == rules
    assert not (plain and rules)


ALPHABET = st.text(alphabet="0123456789-+:.eEzZT%= ;/KGaé\t\u00a0\n", max_size=12)
NEAR = st.sampled_from(
    ["2026-05-01", "09:05:00", "2026-05-01T09:05:00Z", "3.5", "12", "true", "KG", "01", "pu-1"]
)


def _spoiled(pair: tuple[str, int, str]) -> str:
    text, place, extra = pair
    return text[: place % (len(text) + 1)] + extra + text[place % (len(text) + 1) :]


SPOILED = st.tuples(NEAR, st.integers(0, 20), ALPHABET.filter(lambda one: len(one) < 3)).map(
    _spoiled
)


@pytest.mark.parametrize("kind", sorted(FIELDS))
@settings(max_examples=15, deadline=None, derandomize=True)
@given(cells=st.lists(ALPHABET | NEAR | SPOILED, min_size=20, max_size=60))
def test_the_cheap_test_never_passes_a_cell_that_breaks_a_rule(kind: str, cells: list[str]) -> None:
    wrong = [
        (cell, rules)
        for cell, (plain, rules) in zip(cells, judged(kind, cells), strict=True)
        if plain and rules
    ]
    assert wrong == []
