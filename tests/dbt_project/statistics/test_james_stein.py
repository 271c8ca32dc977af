"""James & Stein's pooling: the eighteen batters, and where it does nothing or everything."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from tests.check_values import example
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros, table


def _pooled(*groups: tuple[Sequence[float | None], float]) -> list[list[tuple[Any, ...]]]:
    rows = [
        (k, i, estimate, variance)
        for k, (estimates, variance) in enumerate(groups)
        for i, estimate in enumerate(estimates)
    ]
    given = rows_given({"k": "int", "i": "int", "y": "double", "v": "double"}, rows)
    query = macros()["james_stein"]("given", ["k"], "y", "v")
    found = table(
        f"select k, js_mean, js_weight, js_estimate from ({query}) order by k, i", given=given
    )
    return [[row[1:] for row in found if row[0] == k] for k in range(len(groups))]


def _batters() -> tuple[np.ndarray, np.ndarray, float]:
    given = example("d-efron-morris-1977-js").inputs
    raw = np.array(given["hits"]) / given["at_bats"]
    variance = raw.mean() * (1 - raw.mean()) / given["at_bats"]
    [found] = _pooled((raw.tolist(), variance))
    assert len({row[:2] for row in found}) == 1
    return raw, np.array([row[2] for row in found]), found[0][1]


def test_eighteen_averages_are_pulled_to_their_mean() -> None:
    # Efron & Morris (1977): inputs, mean and constant read; single estimates from memory.
    paper = example("d-efron-morris-1977-js")
    raw, estimates, weight = _batters()
    assert raw.mean() == paper.expects("grand_mean")
    assert weight == paper.expects("c")
    assert estimates.tolist() == paper.expects("js")


def test_pulled_averages_foretell_the_season_better() -> None:
    # Efron & Morris (1977): from memory.
    paper = example("d-efron-morris-1977-sse")
    later = np.array(example(paper.inputs["ref"]).inputs["remaining_average"])
    raw, estimates, _ = _batters()
    errors = [float(((one - later) ** 2).sum()) for one in (raw, estimates)]
    assert errors[0] == paper.expects("sse_raw")
    assert errors[1] == paper.expects("sse_js")
    assert errors[0] / errors[1] == paper.expects("ratio")


def test_each_group_for_itself_and_the_unknown_count_for_nothing() -> None:
    values = [1.0, 2.0, 4.0, 9.0, 4.0]
    squares = float(np.var(values) * 5)
    wide, alike, few, noisy = _pooled(
        ([*values, None], 3.0), ([2.0, 2.0, 2.0, 2.0], 0.0), ([1.0, 3.0, 5.0], 1.0), (values, 90.0)
    )
    assert wide[0] == pytest.approx((4.0, 1 - 2 * 3 / squares, 4 - 3 * (1 - 6 / squares)))
    assert wide[5][0] == 4.0
    assert wide[5][2] is None
    assert alike[0] == (2.0, 0.0, 2.0)
    assert few[0] == (3.0, None, None)
    assert noisy[3] == (4.0, 0.0, 4.0)


def test_unlike_errors_count_with_their_mean() -> None:
    rows = [
        (0, i, y, v) for i, (y, v) in enumerate([(1.0, 1.0), (2.0, 2.0), (4.0, 3.0), (9.0, 6.0)])
    ]
    given = rows_given({"k": "int", "i": "int", "y": "double", "v": "double"}, rows)
    found = table(
        f"select js_weight from ({macros()['james_stein']('given', ['k'], 'y', 'v')})", given=given
    )
    assert found[0][0] == pytest.approx(1 - 3.0 / 38)
