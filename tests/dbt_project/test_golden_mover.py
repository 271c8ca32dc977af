"""A child who changes class on the 8th: in each class for its own days, in the school once.

| lesson of       | left: present of enrolled    | right: present of enrolled   |
|-----------------|------------------------------|------------------------------|
| the 3rd         | 3 of 4 (the mover was away)  | 2 of 2                       |
| the 10th        | 3 of 3                       | 2 of 3 (the mover was away)  |
| pupils reached  | 6 of 7                       | 4 of 5; school 10 of 12      |

Support of five a week: the check of the 5th (5 of 5) is of the left class, that of the 12th (2 of
5) of the right one. Of 5 school days in the left and 15 in the right class, checks speak of 5 and
5.
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Figure

Counts = tuple[float, float]


def _counts(figure: Figure, measure: str, level: str = "class", **keys: str) -> Counts:
    row = figure(measure, "move", level, **keys)
    return row["numerator_count"], row["denominator_count"]


@pytest.mark.parametrize(
    ("measure", "left", "right", "school"),
    [
        ("exposure", (6, 7), (4, 5), (10, 12)),
        ("support_delivery", (5, 5), (2, 5), (7, 10)),
        ("completeness_supports", (5, 5), (5, 15), (10, 20)),
    ],
)
def test_days_before_and_after_the_move_count_for_the_class_of_the_day(
    figure: Figure, measure: str, left: Counts, right: Counts, school: Counts
) -> None:
    assert _counts(figure, measure, class_id="left") == left
    assert _counts(figure, measure, class_id="right") == right
    assert _counts(figure, measure, "school") == school


def test_the_mover_is_one_child_in_the_picture_of_tiers(figure: Figure) -> None:
    assert _counts(figure, "tier_share", "tier", tier_code="2") == (1, 6)


def test_the_mover_is_a_newcomer_in_the_class_moved_to(figure: Figure) -> None:
    # Days in class: 8th, 9th, 10th. Missed: listen, taught on the 3rd; taught again on the 10th.
    assert _counts(figure, "newcomer_reach", class_id="right") == (1, 1)
    assert figure("newcomer_reach", "move", class_id="left")["value"] is None
