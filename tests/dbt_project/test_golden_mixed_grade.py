"""A mixed-grade class: in each of its grades, once in the school.

Class `both` is of grades 02 and 03, class `older` of grade 03. The plan gives grade 02 four lessons
and grade 03 six: `both` takes them once, the larger number.

| listen          | due | given | dose | steps seen | adherence          |
|-----------------|-----|-------|------|------------|--------------------|
| both            | 6   | 3     | .50  | 1 of 2     | .50                |
| older           | 6   | 6     | 1.00 | 2 of 2     | 1.00               |
| grade 02 (both) | 6   | 3     | .50  |            | .50                |
| grade 03 (two)  | 12  | 9     | .75  |            | (.50 + 1.00) / 2   |
| school (two)    | 12  | 9     | .75  |            | .75, not 2 of 3    |
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Figure

PLACES = [
    ("class", {"class_id": "both"}, (3.0, 6.0), 0.5),
    ("grade", {"grade_code": "02"}, (3.0, 6.0), 0.5),
    ("grade", {"grade_code": "03"}, (9.0, 12.0), 0.75),
    ("school", {}, (9.0, 12.0), 0.75),
]


@pytest.mark.parametrize(("level", "keys", "counts", "_steps"), PLACES)
def test_lessons_are_due_once_in_each_grade_and_once_in_the_school(
    figure: Figure, level: str, keys: dict[str, str], counts: tuple[float, float], _steps: float
) -> None:
    dose = figure("dose", "blend", level, **keys)
    assert (dose["numerator_count"], dose["denominator_count"]) == counts


@pytest.mark.parametrize(("level", "keys", "_counts", "steps"), PLACES)
def test_its_visits_speak_in_each_grade_and_once_in_the_school(
    figure: Figure, level: str, keys: dict[str, str], _counts: tuple[float, float], steps: float
) -> None:
    assert figure("adherence", "blend", level, **keys)["value"] == steps
