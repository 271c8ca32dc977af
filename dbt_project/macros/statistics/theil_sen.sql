{# Theil & Sen's slope, one row a series, as a query: the median of the slopes of all pairs.

   relation  name of a CTE or table; keys: list of its columns
   x, y      its columns or expressions, numbers; rows with a null are left out
   level     two-sided level of the range, a number
   Columns out: the keys, `point_count`, `slope_count` (pairs with different x), `slope`,
   `intercept_joint` (median of y - slope x), `intercept_separate` (median y - slope x median x),
   `slope_low`, `slope_high`: the slopes at the ranks (N -/+ z sd of Kendall's S) / 2, rounded, the
   upper one plus 1, with the variance corrected for ties. An end that would need a rank beyond the
   first or last slope (4 points at 95 %) is null: no pair of slopes reaches the level. One x: no
   slope, all null.
   Theil (1950), Sen (1968) (example read).
#}
{% macro theil_sen(relation, keys, x, y, level) -%}
    {%- set by = keys | join(', ') -%}
    {%- set z = two_sided_z(level) -%}
    select *
    from (
        with sen_points as (
            select
                {{ by }},
                cast({{ x }} as double) as x_value,
                cast({{ y }} as double) as y_value
            from {{ relation }}
            where {{ x }} is not null and {{ y }} is not null
        ),

        sen_slopes as (
            select
                *,
                row_number() over (partition by {{ by }} order by slope) as slope_place,
                count(*) over (partition by {{ by }}) as slope_count
            from (
                select
                    {{ keys_of('one', keys) }},
                    (other.y_value - one.y_value) / (other.x_value - one.x_value) as slope
                from sen_points as one
                inner join sen_points as other
                    on {{ same_keys('one', 'other', keys) }} and one.x_value < other.x_value
            ) as sen_pairs
        ),

        sen_middles as (
            select
                {{ by }},
                max(slope_count) as slope_count,
                median(slope) as slope
            from sen_slopes
            group by {{ by }}
        ),

        sen_lines as (
            select
                {{ keys_of('sen_points', keys) }},
                median(sen_points.y_value - sen_middles.slope * sen_points.x_value)
                    as intercept_joint,
                median(sen_points.y_value) - max(sen_middles.slope) * median(sen_points.x_value)
                    as intercept_separate
            from sen_points
            left join sen_middles on {{ same_keys('sen_points', 'sen_middles', keys) }}
            group by {{ keys_of('sen_points', keys) }}
        ),

        sen_spread as (
            {{ kendall_sums('sen_points', keys, 'x_value', 'y_value') }}
        ),

        sen_ranks as (
            select
                {{ keys_of('sen_spread', keys) }},
                sen_spread.point_count,
                sen_middles.slope_count,
                sen_middles.slope,
                round((sen_middles.slope_count - {{ z }} * sqrt(sen_spread.s_variance)) / 2.0)
                    as low_place,
                round((sen_middles.slope_count + {{ z }} * sqrt(sen_spread.s_variance)) / 2.0) + 1.0
                    as high_place
            from sen_spread
            left join sen_middles on {{ same_keys('sen_spread', 'sen_middles', keys) }}
        ),

        sen_limits as (
            select
                {{ keys_of('sen_ranks', keys) }},
                max(case when slope_place = low_place then sen_slopes.slope end) as slope_low,
                max(case when slope_place = high_place then sen_slopes.slope end) as slope_high
            from sen_ranks
            inner join sen_slopes on {{ same_keys('sen_ranks', 'sen_slopes', keys) }}
            group by {{ keys_of('sen_ranks', keys) }}
        )

        select
            {{ keys_of('sen_ranks', keys) }},
            sen_ranks.point_count,
            coalesce(sen_ranks.slope_count, 0) as slope_count,
            sen_ranks.slope,
            sen_lines.intercept_joint,
            sen_lines.intercept_separate,
            sen_limits.slope_low,
            sen_limits.slope_high
        from sen_ranks
        inner join sen_lines on {{ same_keys('sen_ranks', 'sen_lines', keys) }}
        left join sen_limits on {{ same_keys('sen_ranks', 'sen_limits', keys) }}
    ) as theil_sen_rows
{%- endmacro %}
