"""One expression over many rows: opening a connection costs more than any of these formulas."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pandas as pd

from tests.dbt_project.macro_runner import one_thread

Numbers = npt.NDArray[np.float64]


def column(expression: str, **columns: npt.ArrayLike) -> Numbers:
    """What the expression gives for each row of the columns; null is nan."""
    given = pd.DataFrame(columns).astype(float)
    given["row_place"] = np.arange(len(given))
    with one_thread() as connection:
        connection.register("given", given)
        query = f"select {expression} as answer from given order by row_place"
        return connection.execute(query).df()["answer"].to_numpy(dtype=float)


def worst(found: Numbers, expected: npt.ArrayLike) -> float:
    """The largest error in units of the expected value; infinite where one of them is missing."""
    known = np.asarray(expected, dtype=float)
    error = np.abs(found - known) / np.maximum(np.abs(known), 1e-300)
    return float(np.where(np.isnan(error), np.inf, error).max())


def furthest(found: Numbers, expected: npt.ArrayLike) -> float:
    """The largest error; infinite where a number is missing."""
    error = np.abs(found - np.asarray(expected, dtype=float))
    return float(np.where(np.isnan(error), np.inf, error).max())
