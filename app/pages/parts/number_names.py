"""Names around a number, and the one row that fits."""

from __future__ import annotations

from collections.abc import Sequence

from app.access import Visit
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text import number_words as say
from app.text.places import Place


def one(rows: Sequence[Row], **wanted: object) -> Row | None:
    """The first row with these values, None when there is none."""
    fits = (row for row in rows if all(row[name] == value for name, value in wanted.items()))
    return next(fits, None)


def names_of(visit: Visit, school_id: str, place: Place) -> dict[str, str]:
    """Names of the school, its routines, grades and, for those who may, the class."""
    scope = visit.scope
    home = one(ask.schools(scope).to_dict("records"), school_id=school_id) or {}
    names = {"school": str(home.get("school_name", ""))}
    routines = ask.routines(scope, school_id).to_dict("records")
    names |= {f"routine {row['routine_id']}": row["name"] for row in routines}
    grades = ask.grades(scope, school_id).to_dict("records")
    names |= {f"grade {row['grade_code']}": row["name"] for row in grades}
    if place.level == "class" and "support" in dict(scope.files):
        classes = support.classes(scope, school_id).to_dict("records")
        names |= {f"class {row['class_id']}": row["title"] for row in classes}
    elif place.level == "class":
        names[f"class {place.key}"] = "my class"
    return names


def held(visit: Visit, school_id: str, place: Place) -> str:
    """Whether observers do not see the same yet in what this number is made of."""
    rows = ask.held(visit.scope, school_id, place.term)
    row = one(rows.to_dict("records"), measure_name=place.measure)
    return "" if row is None else say.held(row)
