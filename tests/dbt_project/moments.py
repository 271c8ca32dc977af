"""Henderson's method I written with matrices, to compare the macro with."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]


def components(factors: Sequence[Sequence[object]], values: Sequence[float]) -> Numbers:
    """Variance components of `factors` and the rest, as they come (also below zero).

    The mean of a quadratic form y'Py is sum of variance x trace(P Z Z'); one P a factor (onto its
    means) and one for all values, each less the one onto the grand mean.
    """
    y = np.asarray(values, dtype=float)
    designs = [_design(factor) for factor in factors]
    grand = np.full((len(y), len(y)), 1 / len(y))
    forms = [z @ np.linalg.inv(z.T @ z) @ z.T - grand for z in designs]
    forms.append(np.eye(len(y)) - grand)
    spreads = [z @ z.T for z in designs] + [np.eye(len(y))]
    means = [[np.trace(form @ spread) for spread in spreads] for form in forms]
    return np.linalg.solve(np.array(means), np.array([y @ form @ y for form in forms]))


def _design(factor: Sequence[object]) -> Numbers:
    levels = sorted(set(map(str, factor)))
    return np.array([[float(str(one) == level) for level in levels] for one in factor])
