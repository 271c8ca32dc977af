{# Exponentially weighted moving average, one row a point, as a query.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the points in order, unique within the keys; value: its column
   weight     share of the newest point, 0 < weight <= 1, a number
   start      the average before the first point: a number or one of the keys; default the mean
   sd         standard deviation of a point, likewise; default the mean moving range / 1.128
   sigmas     how many standard deviations of the average off the limits are
   Columns out: the keys, the order column, `value`, `average`, `center`, `low`, `high` (settled:
   sd x sqrt(weight / (2 - weight))), `low_now`, `high_now` (at this point: narrower while few
   points are in), `is_outside` (of the settled limits, on a limit is inside).
   Without recursion: every earlier point times (1 - weight) ^ its age, all factors at most 1, so a
   long series stays exact; ages whose factor is below 1e-17 are left out. With one point and no
   `sd` there are no limits. Roberts (1959); NIST/SEMATECH e-Handbook 6.3.2.4 (read as quoted).
#}
{% macro ewma(relation, keys, order_by, value, weight, start=none, sd=none, sigmas=3.0) -%}
    {%- set by = keys | join(', ') -%}
    {%- set kept = '(1.0 - ' ~ weight ~ ')' -%}
    {%- set settled = sigmas ~ ' * point_sd * sqrt(' ~ weight ~ ' / (2.0 - ' ~ weight ~ '))' -%}
    {%- set now = settled ~ ' * sqrt(1.0 - power(' ~ kept ~ ', 2 * series_place))' -%}
    select *
    from (
        with ewma_points as (
            select
                *,
                cast(
                    {{ start or 'avg(series_value) over (partition by ' ~ by ~ ')' }} as double
                ) as center,
                cast(
                    {{ sd or 'avg(moving_range) over (partition by ' ~ by ~ ') / 1.128' }} as double
                ) as point_sd
            from (
                select
                    *,
                    abs(
                        series_value
                        - lag(series_value) over (partition by {{ by }} order by series_place)
                    ) as moving_range
                from ({{ series_in_order(relation, keys, order_by, value) }}) as ewma_ordered
            ) as ewma_ranges
        ),

        ewma_sums as (
            select
                {{ keys_of('newer', keys) }},
                newer.series_place,
                sum(
                    {{ weight }} * older.series_value
                    * power({{ kept }}, newer.series_place - older.series_place)
                ) as weighted_sum
            from ewma_points as newer
            inner join ewma_points as older
                on
                    {{ same_keys('newer', 'older', keys) }}
                    and older.series_place <= newer.series_place
                    and power({{ kept }}, newer.series_place - older.series_place) >= 1e-17
            group by {{ keys_of('newer', keys) }}, newer.series_place
        )

        select
            {{ keys_of('ewma_points', keys) }},
            ewma_points.{{ order_by }},
            ewma_points.series_value as value,
            weighted_sum + center * power({{ kept }}, ewma_points.series_place) as average,
            center,
            center - {{ settled }} as low,
            center + {{ settled }} as high,
            center - {{ now | replace('series_place', 'ewma_points.series_place') }} as low_now,
            center + {{ now | replace('series_place', 'ewma_points.series_place') }} as high_now,
            coalesce(
                abs(weighted_sum + center * power({{ kept }}, ewma_points.series_place) - center)
                > {{ settled }} * (1.0 + 1e-9) + 1e-12 * abs(center),
                false
            ) as is_outside
        from ewma_points
        inner join ewma_sums
            on
                {{ same_keys('ewma_points', 'ewma_sums', keys) }}
                and ewma_points.series_place = ewma_sums.series_place
    ) as ewma_rows
{%- endmacro %}
