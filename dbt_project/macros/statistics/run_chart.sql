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
   nothing is tested. There is no rule of k rising points: it finds no more and signals by chance alone.
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


{# Points with their side of the center: 1 above, -1 below, 0 on it. #}
{% macro points_about_center(relation, keys, order_by, value, center=none) -%}
    select
        *,
        cast(sign(series_value - center) as bigint) as run_side
    from (
        select
            *,
            cast(
                {{ center or 'median(series_value) over (partition by ' ~ keys | join(', ') ~ ')' }}
                as double
            ) as center
        from ({{ series_in_order(relation, keys, order_by, value) }}) as run_ordered
    ) as run_centered
{%- endmacro %}


{# Points off the center with the number of their run: it grows where the side changes. #}
{% macro numbered_runs(points, keys) -%}
    {%- set by = keys | join(', ') -%}
    select
        *,
        sum(is_new_run) over (
            partition by {{ by }} order by series_place
            rows between unbounded preceding and current row
        ) as run_number
    from (
        select
            *,
            case
                when run_side = lag(run_side) over (partition by {{ by }} order by series_place)
                    then 0
                else 1
            end as is_new_run
        from {{ points }}
        where run_side != 0
    ) as run_starts
{%- endmacro %}


{# Which side comes later on average; the only side when there is one. #}
{% macro later_side() -%}
    case
        when min(run_side) = max(run_side) then max(run_side)
        when
            sum(case when run_side = 1 then run_length * run_middle end)
            / sum(case when run_side = 1 then run_length end)
            < sum(case when run_side = -1 then run_length * run_middle end)
            / sum(case when run_side = -1 then run_length end)
            then -1
        else 1
    end
{%- endmacro %}


{# Limits for each number of useful points in a relation: the count, run_limit, crossing_limit.

   The crossings of n independent points are Binomial(n - 1, 1/2).
#}
{% macro run_chart_limits(relation, count) -%}
    select
        {{ count }},
        max(cast(round(ln({{ count }}) / ln(2.0) + 3.0) as bigint)) as run_limit,
        min(case when share_up_to >= 0.05 - 1e-12 then crossings end) as crossing_limit
    from (
        select
            {{ count }},
            crossings,
            sum(exp(log_ways - ({{ count }} - 1) * ln(2.0))) over (
                partition by {{ count }} order by crossings
                rows between unbounded preceding and current row
            ) as share_up_to
        from (
            select
                {{ count }},
                step - 1 as crossings,
                sum(case when step > 1 then ln(({{ count }} - step + 1.0) / (step - 1.0))
                    else 0.0 end) over (
                    partition by {{ count }} order by step
                    rows between unbounded preceding and current row
                ) as log_ways
            from (
                select
                    {{ count }},
                    {{ each_number(count) }} as step
                from (select distinct {{ count }} from {{ relation }}) as run_counts
            ) as run_steps
        ) as run_ways
    ) as run_shares
    group by {{ count }}
{%- endmacro %}
