"""Single measures worked out by hand."""

from __future__ import annotations

import math
import statistics

import pytest

from tests.dbt_project.answers import Ask, Figure
from tests.dbt_project.golden_measures import SIDES

# Waits after a break. Both classes come back on the 15th, day 0.
#   p1: listen (known since the 1st) on the 17th: 2. walk (the 2nd) not by the 26th: longer than 9.
#   p2: listen (the 2nd) on the 15th: 0. walk was never taught.
# Kaplan-Meier, school: three left, after day 0 two thirds, after day 2 one third: median 2.


def test_the_wait_after_a_break_counts_what_is_not_yet_taught_as_longer(figure: Figure) -> None:
    term = {"term_id": "pause-t2"}
    class_row = figure("reteach_gap", "pause", class_id="p1", **term)
    assert (class_row["value"], class_row["numerator_count"], class_row["unit_count"]) == (2, 1, 2)
    school = figure("reteach_gap", "pause", "school", **term)
    assert (school["value"], school["numerator_count"], school["denominator_count"]) == (2, 2, 3)
    assert (school["low"], school["high"]) == (0.0, None)
    listen = figure("reteach_gap", "pause", "school", routine_id="listen", **term)
    assert (listen["value"], listen["denominator_count"]) == (0.0, 2.0)
    walk = figure("reteach_gap", "pause", "school", routine_id="walk", **term)
    assert (walk["value"], walk["sufficiency"]) == (None, "none")


def test_the_first_term_has_no_break_before_it(figure: Figure) -> None:
    assert figure("reteach_gap", "pause", "school", term_id="pause-t1")["denominator_count"] is None


# Newcomers, three school days from the first in class.
#   p1-soon: 3rd-5th, missed listen and walk; listen came on the 4th.
#   p1-late: 16th-18th, missed both; listen came on the 17th.
#   p2-soon: 4th, 5th, 15th, missed listen; it came on the 15th.
#   p1-last: 25th, 26th: not over yet.
@pytest.mark.parametrize(
    ("term_id", "routine_id", "reached", "joined"),
    [
        ("pause-t1", "*", 1, 1),
        ("pause-t1", "listen", 1, 1),
        ("pause-t1", "walk", 0, 1),
        ("pause-t2", "*", 2, 2),
        ("pause-t2", "listen", 2, 2),
        ("pause-t2", "walk", 0, 1),
    ],
)
def test_a_newcomer_is_reached_when_a_missed_routine_is_taught_in_the_first_days(
    figure: Figure, term_id: str, routine_id: str, reached: int, joined: int
) -> None:
    row = figure("newcomer_reach", "pause", "school", term_id=term_id, routine_id=routine_id)
    assert (row["numerator_count"], row["denominator_count"]) == (reached, joined)


def test_families_who_practised_are_out_of_those_asked(figure: Figure) -> None:
    # 3 of 4 and 1 of 5.
    for level, keys in (("class", {"class_id": "p1"}), ("grade", {"grade_code": "01"})):
        row = figure("family_practice", "pause", level, term_id="pause-t2", **keys)
        assert (row["numerator_count"], row["denominator_count"]) == (4.0, 9.0)


def test_families_asked_are_out_of_the_children_of_that_week(figure: Figure) -> None:
    # On the 19th five children, on the 26th six.
    row = figure("completeness_family", "pause", class_id="p1", term_id="pause-t2")
    assert (row["numerator_count"], row["denominator_count"]) == (9.0, 11.0)


def test_a_first_load_is_no_sign_of_lateness(figure: Figure) -> None:
    # Family weeks: one of the first load, one received after the year's last day.
    row = figure("timeliness_family", "pause", class_id="p1", term_id="pause-t2")
    assert (row["numerator_count"], row["denominator_count"]) == (0.0, 1.0)
    # Visits: the first load of the 3rd is left out; one came the next day, one 13 days later.
    visits = figure("timeliness_visits", "say", "school")
    assert (visits["numerator_count"], visits["denominator_count"]) == (1.0, 2.0)


def test_24_praise_statements_and_6_corrections_are_4_to_1(figure: Figure) -> None:
    ratio = figure("praise_ratio", "say", class_id="y1")
    assert ratio["value"] == pytest.approx(4.0, abs=1e-9)
    assert (round(ratio["low"], 1), round(ratio["high"], 1)) == (1.7, 9.5)
    assert (ratio["numerator_count"], ratio["denominator_count"]) == (24.0, 6.0)
    assert ratio["sufficiency"] == "usable"


def test_without_a_correction_there_is_a_share_and_no_ratio(figure: Figure) -> None:
    assert figure("praise_share", "say", class_id="y2")["value"] == 1.0
    assert figure("praise_ratio", "say", class_id="y2")["value"] is None
    # Together 32 to 6.
    school = figure("praise_ratio", "say", "school")
    assert school["value"] == pytest.approx(32 / 6, abs=1e-9)


def test_things_in_place_are_the_mean_of_the_visits(figure: Figure) -> None:
    # 3 of 4 and 1 of 1.
    assert figure("products_present", "say", class_id="y1")["value"] == 0.75
    assert figure("products_present", "say", "school")["value"] == 0.875


def test_waits_long_enough_are_the_mean_of_the_draw_days(figure: Figure) -> None:
    # Day 1: 1 and 2 seconds. Day 2: 3. Day 10: 6. Shares 0, 1 and 1.
    row = figure("think_time_share", "turn", class_id="t1")
    assert row["value"] == pytest.approx(2 / 3, abs=1e-9)
    assert (row["session_count"], row["numerator_count"], row["unit_count"]) == (3, 2.0, 4)


def test_days_with_draws_are_out_of_all_school_days(figure: Figure) -> None:
    row = figure("completeness_draws", "turn", class_id="t1")
    assert (row["numerator_count"], row["denominator_count"]) == (3.0, 20.0)


def test_extra_visits_to_one_class_do_not_make_up_for_another(figure: Figure) -> None:
    # e1: the pair is one visit of three. e2: five of three count as three.
    made = {key: figure("completeness_visits", "eye", class_id=key)["numerator_count"]
            for key in ("e1", "e2")}  # fmt: skip
    assert made == {"e1": 1.0, "e2": 3.0}
    school = figure("completeness_visits", "eye", "school")
    assert (school["numerator_count"], school["denominator_count"]) == (4.0, 6.0)


@pytest.mark.parametrize(
    ("level", "keys", "counts"),
    [
        ("class", {"class_id": "u1"}, (10.0, 40.0)),
        ("tier", {"tier_code": "2"}, (10.0, 20.0)),
        ("tier", {"tier_code": "3"}, (0.0, 20.0)),
    ],
)
def test_support_is_known_where_a_check_speaks_of_it(
    figure: Figure, level: str, keys: dict[str, str], counts: tuple[float, float]
) -> None:
    # Two plans of five a week over four weeks; the checks of one speak of 5 and 5.
    row = figure("completeness_supports", "up", level, **keys)
    assert (row["numerator_count"], row["denominator_count"]) == counts


def test_all_minutes_count_when_nothing_is_capped(figure: Figure) -> None:
    # listen 12 x 5, walk 2 x 5; due 14 x 5. Capped: 50 + 10.
    row = figure("dose_minutes_uncapped", "north", class_id="n1")
    assert (row["numerator_count"], row["denominator_count"]) == (70.0, 70.0)
    assert figure("dose_minutes", "north", class_id="n1")["numerator_count"] == 60.0


def test_fidelity_is_the_mean_of_its_sides_with_the_spread_of_whole_visits(
    figure: Figure, ask: Ask
) -> None:
    # Steps .8, ratings 11 / 15, looks .74: the mean of the three. Drawn again, a visit brings its
    # three sides along, so the standard error is that of the visits' own means: s / sqrt(5).
    means = [(done / 4 + rating / 3 + looks / 10) / 3 for done, rating, looks in SIDES]
    row = figure("fidelity", "side", class_id="d1")
    assert row["value"] == pytest.approx((0.8 + 11 / 15 + 0.74) / 3, abs=1e-9)
    assert (row["numerator_count"], row["denominator_count"]) == (
        pytest.approx(0.8 + 11 / 15 + 0.74, abs=1e-9),
        3.0,
    )
    error, df = ask(
        "select standard_error, spread_df from core.fct_measures where measure_name = 'fidelity'"
        " and class_id = 'd1' and routine_id = '*' and window_code = 'term'"
    )[0]
    assert df == 4
    assert error == pytest.approx(statistics.stdev(means) / math.sqrt(5), rel=0.06)
    # t(4) = 2.776445; the ends p lie where (v - p)^2 = margin^2 p (1 - p) / (v (1 - v)).
    k = (2.776445 * error) ** 2 / (row["value"] * (1 - row["value"]))
    half = math.sqrt((2.776445 * error) ** 2 + k * k / 4)
    assert row["low"] == pytest.approx((row["value"] + k / 2 - half) / (1 + k), abs=1e-5)
    assert row["high"] == pytest.approx((row["value"] + k / 2 + half) / (1 + k), abs=1e-5)
    assert row["detail"] == "quality"


def test_ratings_keep_their_spread_beside_their_mean(ask: Ask) -> None:
    # Overall ratings of the five visits: 3, 2, 2, 1, 3.
    rows = ask(
        "select level_code, rating_0_count, rating_1_count, rating_2_count, rating_3_count,"
        " rating_count from core.fct_rating_distribution where school_id = 'side'"
        " and rating_code = 'overall' and routine_id = '*' and window_code = 'term' order by 1"
    )
    assert rows == [(level, 0, 1, 2, 2, 5) for level in ("class", "grade", "school")]
