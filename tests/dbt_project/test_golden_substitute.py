"""A substitute's day: not the teacher's figure, but the children's and the school's.

Steps: two visits to the teacher with 2 of 2 and 1 of 2, one to the substitute with 0 of 2.
Class: (1 + .5) / 2 = .75 of two visits. School and grade: (1 + .5 + 0) / 3 = .5 of three.
Of two lessons due the substitute gave one: the children had both, 2 of 2 at every level.
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Figure

PLACES = [
    ("class", {"class_id": "own"}, (0.75, 2)),
    ("grade", {"grade_code": "01"}, (0.5, 3)),
    ("school", {}, (0.5, 3)),
]


@pytest.mark.parametrize(("level", "keys", "steps"), PLACES)
def test_the_substitutes_visit_counts_for_the_grade_and_school_only(
    figure: Figure, level: str, keys: dict[str, str], steps: tuple[float, int]
) -> None:
    adherence = figure("adherence", "cover", level, **keys)
    assert (adherence["value"], adherence["session_count"]) == steps


@pytest.mark.parametrize(("level", "keys", "_steps"), PLACES)
def test_the_substitutes_lesson_counts_everywhere(
    figure: Figure, level: str, keys: dict[str, str], _steps: tuple[float, int]
) -> None:
    assert figure("dose", "cover", level, **keys)["numerator_count"] == 2.0
