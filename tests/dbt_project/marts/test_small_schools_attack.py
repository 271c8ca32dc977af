"""Small schools drawn at random through the models that withhold, and attacked.

The models are run as they were built; counts are such as break rules: around the setting, at both
ends, and nearly alike from term to term.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.dbt_project.linear_attack import System, known
from tests.dbt_project.marts.compiled import run_model
from tests.dbt_project.marts.conftest import Built

LEAST = 10
DRAWN = settings(
    deadline=None, max_examples=8, suppress_health_check=[HealthCheck.function_scoped_fixture]
)

# Tiers of a term: a school has a few terms, in which few children change.
TIERS = st.lists(
    st.tuples(st.integers(40, 90), st.integers(0, 24), st.integers(0, 24)), min_size=1, max_size=4
)


def _tier_rows(schools: list[list[tuple[int, int, int]]]) -> list[dict[str, Any]]:
    return [
        {
            "school_id": f"s{school}", "term_id": f"t{term}", "level_code": "tier",
            "window_code": "term", "measure_name": "tier_share", "tier_code": str(tier + 1),
            "numerator_count": count,
        }
        for school, terms in enumerate(schools)
        for term, counts in enumerate(terms)
        for tier, count in enumerate(counts)
    ]  # fmt: skip


def _tier_system(rows: list[dict[str, Any]], reasons: dict[Any, str | None], tier: str) -> System:
    """Tiers add up to the roll of their term; a reader may know that one tier has not changed."""
    system = System()
    terms: dict[str, list[str]] = defaultdict(list)
    alike: dict[float, list[str]] = defaultdict(list)
    for row in rows:
        name, count = f"{row['term_id']}/{row['tier_code']}", row["numerator_count"]
        reason = reasons[row["school_id"], row["term_id"], row["tier_code"]]
        terms[row["term_id"]].append(name)
        if row["tier_code"] == tier:
            alike[count].append(name)
        if reason is None:
            system.publish(name, count)
        elif reason == "small_cell":
            system.bound(name, 0, LEAST - 1)
    for term, names in terms.items():
        system.adds_up(names, term)
        system.publish(term, sum(row["numerator_count"] for row in rows if row["term_id"] == term))
    for names in alike.values():
        for name in names[1:]:
            system.between({names[0]: 1.0, name: -1.0}, 0, 0)
    return system


@DRAWN
@given(st.lists(TIERS, min_size=4, max_size=10))
def test_no_tier_is_given_away_by_its_school_or_by_another_term(
    built: Built, schools: list[list[tuple[int, int, int]]]
) -> None:
    rows = _tier_rows(schools)
    terms = [
        {"school_id": school, "term_id": term, "school_year_ends": 2026}
        for school, term in sorted({(row["school_id"], row["term_id"]) for row in rows})
    ]
    found = run_model(
        built.folder / "target",
        "judged/dim_tiers_withheld",
        {"fct_measures": rows, "dim_terms": terms},
    )
    reasons = {(row["school_id"], row["term_id"], row["tier_code"]): row["reason"]
               for row in found}  # fmt: skip
    for school, tier in {(row["school_id"], row["tier_code"]) for row in rows}:
        mine = [row for row in rows if row["school_id"] == school]
        small = [
            f"{row['term_id']}/{tier}"
            for row in mine
            if row["tier_code"] == tier and row["numerator_count"] < LEAST
        ]
        for name, range_of in known(_tier_system(mine, reasons, tier), small).items():
            assert not range_of.is_exact, (mine, reasons, name)


# Grades of a school: children counted and not counted, of ten or more each.
ENDS = st.tuples(st.integers(0, 45), st.integers(0, 45)).filter(lambda ends: sum(ends) >= LEAST)
GRADES = st.lists(ENDS, min_size=2, max_size=6)


def _end_rows(schools: list[list[tuple[int, int]]]) -> list[dict[str, Any]]:
    rows = []
    for school, grades in enumerate(schools):
        sums = tuple(sum(ends[side] for ends in grades) for side in (0, 1))
        for grade, ends in [*enumerate(grades), ("*", sums)]:
            is_small = min(ends) < LEAST
            rows.append({
                "school_id": f"s{school}", "level_code": "school" if grade == "*" else "grade",
                "class_id": "*", "grade_code": str(grade), "tier_code": "*", "routine_id": "*",
                "term_id": "t", "window_code": "term", "measure_name": "coverage",
                "member_code": str(grade), "parent_code": "school" if grade == "*" else "*",
                "group_reason": None, "alone_reason": "end_coarsened" if is_small else None,
                "counted_count": ends[0], "rest_count": ends[1],
                "denominator_count": sum(ends), "smaller_count": min(ends),
            })  # fmt: skip
    return rows


def _end_system(rows: list[dict[str, Any]], reasons: dict[Any, str | None]) -> System:
    """Sizes of grades are no secret; a coarsened row tells which end is small."""
    system = System()
    tells = any(reasons[row["school_id"], row["grade_code"]] == "end_coarsened" for row in rows
                if row["grade_code"] != "*")  # fmt: skip
    for row in rows:
        grade, reason = row["grade_code"], reasons[row["school_id"], row["grade_code"]]
        names = {end: f"{grade}/{end}" for end in ("counted", "rest")}
        system.adds_up(names.values(), f"{grade}/all")
        system.publish(f"{grade}/all", row["denominator_count"])
        for end, name in names.items():
            count = row[f"{end}_count"]
            if reason is None:
                system.publish(name, count)
            elif reason == "end_coarsened":
                if end == ("counted" if row["counted_count"] < LEAST else "rest"):
                    system.bound(name, 0, LEAST - 1)
            elif tells:
                system.bound(name, LEAST, 10_000)
    for end in ("counted", "rest"):
        parts = [f"{row['grade_code']}/{end}" for row in rows if row["grade_code"] != "*"]
        system.adds_up(parts, f"*/{end}")
    return system


@DRAWN
@given(st.lists(GRADES, min_size=4, max_size=10))
def test_no_end_of_a_grade_is_given_away_by_its_school(
    built: Built, schools: list[list[tuple[int, int]]]
) -> None:
    rows = _end_rows(schools)
    found = run_model(
        built.folder / "target", "judged/fct_people_judged", {"fct_people_ends": rows}
    )
    reasons = {(row["school_id"], row["grade_code"]): row["reason"] for row in found}
    for school in {row["school_id"] for row in rows}:
        mine = [row for row in rows if row["school_id"] == school]
        small = [
            f"{row['grade_code']}/{end}"
            for row in mine
            for end in ("counted", "rest")
            if row[f"{end}_count"] < LEAST
        ]
        for name, range_of in known(_end_system(mine, reasons), small).items():
            assert range_of.high - range_of.low >= LEAST - 1 - 1e-6, (mine, name, range_of)


def test_the_attack_finds_the_children_where_company_is_left_out(built: Built) -> None:
    """38 of 40 in one grade, the others far from either end: withheld alone, two is found."""
    rows = _end_rows([[(38, 2), (30, 30), (25, 40)]])
    found = run_model(
        built.folder / "target", "judged/fct_people_judged", {"fct_people_ends": rows}
    )
    reasons = {(row["school_id"], row["grade_code"]): row["reason"] for row in found}
    assert sorted(map(str, reasons.values())) == [
        "None", "None", "complementary", "end_coarsened"
    ]  # fmt: skip
    alone = {key: reason if reason == "end_coarsened" else None for key, reason in reasons.items()}
    assert known(_end_system(rows, alone), ["0/rest"])["0/rest"].is_exact
    assert not known(_end_system(rows, reasons), ["0/rest"])["0/rest"].is_exact
