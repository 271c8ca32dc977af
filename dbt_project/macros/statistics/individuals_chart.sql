{# Individuals chart, one row a point, as a query: mean +/- 3 / 1.128 (2.66) mean moving range.

   relation    name of a CTE or table; keys: list of its columns
   order_by    its column that puts the points in order, unique within the keys; value: its column
   sigmas      how many standard deviations off the limits are
   baseline    condition on the relation's row; only such points set the limits. Default: all
   Columns out: the keys, the order column, `value`, `moving_range` (null at the first point),
   `center`, `mean_moving_range`, `low`, `high`, `is_outside` (a point on a limit is inside).
   With one point of a baseline there are no limits and `is_outside` is false. 1.128 is the mean
   range of two standard normal values as the printed tables round it.
   NIST/SEMATECH e-Handbook 6.3.2.2 (read as quoted by others).
#}
{% macro individuals_chart(relation, keys, order_by, value, sigmas=3.0, baseline='true') -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        {{ order_by }},
        series_value as value,
        moving_range,
        center,
        mean_moving_range,
        center - {{ sigmas }} * mean_moving_range / 1.128 as low,
        center + {{ sigmas }} * mean_moving_range / 1.128 as high,
        coalesce(
            abs(series_value - center)
            > {{ sigmas }} * mean_moving_range / 1.128
            + 1e-9 * mean_moving_range + 1e-12 * abs(center),
            false
        ) as is_outside
    from (
        select
            *,
            avg(case when is_baseline then series_value end) over (partition by {{ by }})
                as center,
            avg(case when is_baseline and was_baseline then moving_range end) over (
                partition by {{ by }}
            ) as mean_moving_range
        from (
            select
                *,
                abs(
                    series_value
                    - lag(series_value) over (partition by {{ by }} order by {{ order_by }})
                ) as moving_range,
                lag(is_baseline) over (partition by {{ by }} order by {{ order_by }})
                    as was_baseline
            from (
                select
                    {{ by }},
                    {{ order_by }},
                    cast({{ value }} as double) as series_value,
                    {{ baseline }} as is_baseline
                from {{ relation }}
                where {{ value }} is not null and {{ order_by }} is not null
            ) as chart_points
        ) as chart_ranges
    ) as chart_centers
{%- endmacro %}
