"""Any table of people: the rule by hand, and attacks by a linear programme."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.dbt_project.statistics.withheld_by_hand import by_hand
from tests.dbt_project.statistics.withheld_tables import (
    Cell,
    exposed,
    only_primary,
    suppressed,
    with_margins,
)

COUNTS = st.one_of(st.integers(0, 14), st.integers(0, 60))


@st.composite
def tables_of_people(draw: st.DrawFn) -> dict[Cell, float]:
    rows, columns = draw(st.integers(2, 4)), draw(st.integers(2, 5))
    return with_margins([[draw(COUNTS) for _ in range(columns)] for _ in range(rows)])


@settings(deadline=None, max_examples=12)
@given(st.lists(tables_of_people(), min_size=6, max_size=10), st.sampled_from([3, 5, 10]))
def test_no_small_cell_is_given_away_whatever_the_table(
    tables: list[dict[Cell, float]], least: int
) -> None:
    for cells, reasons in zip(tables, suppressed(tables, least), strict=True):
        assert exposed(cells, reasons, least) == []
        assert all(reasons[cell] for cell, count in cells.items() if count < least)


@settings(deadline=None, max_examples=25)
@given(st.lists(tables_of_people(), min_size=12, max_size=20), st.booleans())
def test_the_macro_does_what_its_rule_says(
    tables: list[dict[Cell, float]], keeps_margins: bool
) -> None:
    found = suppressed(tables, 10, keeps_margins=keeps_margins)
    for cells, reasons in zip(tables, found, strict=True):
        assert reasons == by_hand(cells, 10, keeps_margins)


def test_primary_withholding_alone_is_seen_through_most_of_the_time() -> None:
    """The attack is no formality: without company it finds what is hidden."""
    tables = [
        with_margins([[n % 8, 20 + n, 31], [40, 22 + n % 5, 35], [26, 43, 29]]) for n in range(8)
    ]
    for cells, reasons in zip(tables, suppressed(tables, 10), strict=True):
        assert exposed(cells, only_primary(cells, 10), 10) == [("r0", "c0")]
        assert exposed(cells, reasons, 10) == []
