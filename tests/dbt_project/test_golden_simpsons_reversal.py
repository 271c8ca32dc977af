"""Simpson's reversal: every class does better, and all looks thrown together say worse.

| steps done | term one                   | term two                   |
|------------|----------------------------|----------------------------|
| strong     | 4 visits, 3 of 4 each: .75 | 1 visit, 4 of 4: 1.00      |
| weak       | 1 visit, 1 of 4: .25       | 4 visits, 2 of 4 each: .50 |
| thrown together | (12 + 1) / 20 = .65   | (4 + 8) / 20 = .60         |
| classes once    | (.75 + .25) / 2 = .50 | (1.00 + .50) / 2 = .75     |
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Figure

TERMS = ("simpson-t1", "simpson-t2")


def test_each_class_did_better_in_the_second_term(figure: Figure) -> None:
    for class_id, values in {"strong": (0.75, 1.0), "weak": (0.25, 0.5)}.items():
        got = [figure("adherence", "simpson", class_id=class_id, term_id=of) for of in TERMS]
        assert tuple(row["value"] for row in got) == values


@pytest.mark.parametrize("level", ["school", "grade"])
def test_the_school_did_better_though_its_counts_together_say_worse(
    figure: Figure, level: str
) -> None:
    keys = {"grade_code": "01"} if level == "grade" else {}
    one, two = (figure("adherence", "simpson", level, term_id=of, **keys) for of in TERMS)
    assert (one["value"], two["value"]) == (0.5, 0.75)
    together = [row["numerator_count"] / row["denominator_count"] for row in (one, two)]
    assert together == [0.65, 0.6]
