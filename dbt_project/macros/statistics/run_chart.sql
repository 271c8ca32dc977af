{# Runs about the median, one row a series, as a query (Anhoej & Olesen 2014, abstract read).

   relation    name of a CTE or table; keys: list of its columns
   order_by    its column that puts the points in order, unique within the keys; value: its column
   min_points  points off the median below which nothing is tested
   center      a number or one of the keys, to use instead of the series' own median
   Columns out: the keys, `point_count`, `center`, `useful_count` (points off it), `longest_run`,
   `run_limit` round(log2 n + 3), `crossing_count`, `crossing_limit` (5th percentile of
   Binomial(n - 1, 1/2)), `is_tested`, `has_long_run` (longer than the limit), `has_few_crossings`
   (fewer than the limit), `direction` 1 when the points above come later than those below, else -1.
   The last three are null when nothing is tested, the limits when no point is off the median.
   Points on the median neither end nor lengthen a run. Where half of the points or more lie on
   their own median (a share that is mostly 1) the others may all lie on one side by that alone:
   nothing is tested. There is no rule of k rising points: it finds no more and
   signals by chance alone.
#}
{% macro run_chart(relation, keys, order_by, value, min_points, center=none) -%}
    {%- set by = keys | join(', ') -%}
    {%- set enough = 'run_sums.useful_count >= ' ~ min_points -%}
    {%- if not center -%}
        {%- set enough = enough ~ ' and 2 * run_sums.useful_count > run_series.point_count' -%}
    {%- endif -%}
    select *
    from (
        with run_points as (
            {{ points_about_center(relation, keys, order_by, value, center) }}
        ),

        run_lengths as (
            select
                {{ by }},
                run_side,
                run_number,
                count(*) as run_length,
                avg(series_place) as run_middle
            from ({{ numbered_runs('run_points', keys) }}) as run_numbered
            group by {{ by }}, run_side, run_number
        ),

        run_sums as (
            select
                {{ by }},
                cast(sum(run_length) as bigint) as useful_count,
                max(run_length) as longest_run,
                count(*) - 1 as crossing_count,
                {{ later_side() }} as direction
            from run_lengths
            group by {{ by }}
        ),

        run_limits as (
            {{ run_chart_limits('run_sums', 'useful_count') }}
        ),

        run_series as (
            select
                {{ by }},
                count(*) as point_count,
                max(center) as center
            from run_points
            group by {{ by }}
        )

        select
            {{ keys_of('run_series', keys) }},
            run_series.point_count,
            run_series.center,
            coalesce(run_sums.useful_count, 0) as useful_count,
            coalesce(run_sums.longest_run, 0) as longest_run,
            run_limits.run_limit,
            coalesce(run_sums.crossing_count, 0) as crossing_count,
            run_limits.crossing_limit,
            coalesce({{ enough }}, false) as is_tested,
            case when {{ enough }} then run_sums.longest_run > run_limits.run_limit end
                as has_long_run,
            case when {{ enough }} then run_sums.crossing_count < run_limits.crossing_limit end
                as has_few_crossings,
            case when {{ enough }} then run_sums.direction end as direction
        from run_series
        left join run_sums on {{ same_keys('run_series', 'run_sums', keys) }}
        left join run_limits on run_sums.useful_count = run_limits.useful_count
    ) as run_chart_rows
{%- endmacro %}
