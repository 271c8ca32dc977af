"""Seeded numbers between 0 and 1: the promised text, evenness, and no tie between neighbours."""

from __future__ import annotations

import hashlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.macro_runner import macros, scalar, table


def _draws(parts: list[str], count: int) -> np.ndarray:
    query = f"select {macros()['uniform_draw'](parts)} from numbers order by i"
    return np.array(table(query, numbers=f"from range({count}) numbers(i)"))[:, 0]


def _promised(*parts: object) -> float:
    digits = hashlib.md5("|".join(map(str, parts)).encode()).hexdigest()[:13]
    return (int(digits, 16) + 0.5) / 2**52


# RFC 1321, appendix A.5 (from memory): the digests of three texts.
@pytest.mark.parametrize(
    ("text", "digest"),
    [
        ("", "d41d8cd98f00b204e9800998ecf8427e"),
        ("abc", "900150983cd24fb0d6963f7d28e17f72"),
        ("message digest", "f96b697d7cb7938d525a2f31aaf161d0"),
    ],
)
def test_the_number_is_the_first_52_bits_of_the_md5_of_the_text(text: str, digest: str) -> None:
    assert scalar("uniform_draw", [f"'{text}'"]) == (int(digest[:13], 16) + 0.5) / 2**52


@settings(max_examples=20, deadline=None)
@given(st.integers(-(2**63), 2**63 - 1), st.text(st.characters(codec="utf-8"), max_size=9))
def test_parts_of_any_text_or_size_are_joined_in_their_order(seed: int, key: str) -> None:
    if "\x00" in key:
        return
    quoted = key.replace("'", "''")
    parts = [f"cast('{seed}' as bigint)", f"'{quoted}'", "date '2026-05-15'", "true"]
    assert scalar("uniform_draw", parts) == _promised(seed, key, "2026-05-15", "true")


def test_the_order_and_the_number_of_parts_matter() -> None:
    assert len({scalar("uniform_draw", parts) for parts in (["1", "2"], ["2", "1"], ["12"])}) == 3


def test_a_missing_part_gives_no_number() -> None:
    assert scalar("uniform_draw", ["1", "cast(null as bigint)"]) is None


def test_neither_zero_nor_one_can_come_out() -> None:
    lowest, highest = (
        (scalar("hex_number", f"'{digit * 13}'") + 0.5) / 2**52 for digit in ("0", "f")
    )
    assert 0 < lowest < 1e-15
    assert 1 - 1e-15 < highest < 1


def test_the_numbers_of_many_seeds_are_even() -> None:
    """Over 40 seeds the p of a chi-square and of a KS test are themselves even."""
    by_seed = _draws(["i // 2000", "'room'", "i % 2000"], 80_000).reshape(40, 2000)
    even = [
        stats.chisquare(np.histogram(draws, bins=50, range=(0, 1))[0]).pvalue for draws in by_seed
    ]
    smooth = [stats.kstest(draws, "uniform").pvalue for draws in by_seed]
    assert stats.kstest(even, "uniform").pvalue > 0.001
    assert stats.kstest(smooth, "uniform").pvalue > 0.001


@pytest.mark.parametrize("parts", [["7", "i"], ["i", "7"], ["7", "i", "'room'"]])
def test_neighbours_know_nothing_of_each_other(parts: list[str]) -> None:
    draws = _draws(parts, 40_001)
    pairs = np.histogram2d(draws[:-1], draws[1:], bins=10, range=[[0, 1], [0, 1]])[0]
    assert stats.chisquare(pairs.ravel()).pvalue > 0.001
    for gap in (1, 2, 10, 100):
        correlation = np.corrcoef(draws[:-gap], draws[gap:])[0, 1]
        assert abs(correlation) < 4 / np.sqrt(len(draws) - gap)


def test_two_seeds_give_unrelated_numbers() -> None:
    one, other = (_draws([seed, "i"], 40_000) for seed in ("1", "2"))
    assert abs(np.corrcoef(one, other)[0, 1]) < 4 / np.sqrt(len(one))
