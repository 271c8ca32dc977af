{# p chart: shares of counted units over time, one row a point, with plain and overdispersed limits.

   relation    name of a CTE or table; keys: list of its columns
   order_by    its column that puts the points in order, unique within the keys
   counted     units that have it; total: units looked at. Rows with a null or no unit are left out
   sigmas      how many standard deviations off the limits are
   Columns out: the keys, the order column, `value`, `center` (all counted / all looked at),
   `point_sd` (binomial), `spread_ratio` (sigma z: mean moving range of the z scores / 1.128; 1 when
   points vary as their counts let expect), `low`, `high` (plain, cut to 0 and 1), `low_wide`,
   `high_wide` (limits x spread_ratio), `is_outside`, `is_outside_wide` (on a limit is inside).
   With one point, or a share of 0 or 1 throughout, `spread_ratio` and the wide limits are null.
   An np chart is the same times `total`. Laney (2002), p' (formula read).
#}
{% macro p_chart(relation, keys, order_by, counted, total, sigmas=3.0) -%}
    {{ attribute_chart(relation, keys, order_by, counted, total, 'center * (1.0 - center)', '1.0',
        sigmas) }}
{%- endmacro %}


{# u chart: events over an area of opportunity (minutes, lessons ...); a c chart has areas of 1.

   As `p_chart`, but the spread is Poisson's and only the lower limit is cut, to 0 (Laney's u').
#}
{% macro u_chart(relation, keys, order_by, counted, total='1.0', sigmas=3.0) -%}
    {{ attribute_chart(relation, keys, order_by, counted, total, 'center', none, sigmas) }}
{%- endmacro %}


{# What both have in common: `variance` of one unit in terms of `center`, `ceiling` or none. #}
{% macro attribute_chart(relation, keys, order_by, counted, total, variance, ceiling, sigmas) -%}
    {%- set by = keys | join(', ') -%}
    {%- set reach = sigmas ~ ' * point_sd' -%}
    {%- set wide = sigmas ~ ' * point_sd * spread_ratio' -%}
    select
        {{ by }},
        {{ order_by }},
        value,
        center,
        point_sd,
        spread_ratio,
        {{ cut_limit('center - ' ~ reach, none) }} as low,
        {{ cut_limit('center + ' ~ reach, ceiling) }} as high,
        {{ cut_limit('center - ' ~ wide, none) }} as low_wide,
        {{ cut_limit('center + ' ~ wide, ceiling) }} as high_wide,
        abs(value - center) > ({{ sigmas }} + 1e-9) * point_sd as is_outside,
        coalesce(
            abs(value - center) > ({{ sigmas }} + 1e-9) * point_sd * spread_ratio, false
        ) as is_outside_wide
    from (
        select
            *,
            avg(abs(z_score - z_before)) over (partition by {{ by }}) / 1.128 as spread_ratio
        from (
            select
                *,
                lag(z_score) over (partition by {{ by }} order by {{ order_by }}) as z_before
            from (
                select
                    *,
                    sqrt({{ variance }} / unit_count) as point_sd,
                    (value - center) / nullif(sqrt({{ variance }} / unit_count), 0.0) as z_score
                from (
                    select
                        {{ by }},
                        {{ order_by }},
                        cast({{ total }} as double) as unit_count,
                        cast({{ counted }} as double) / {{ total }} as value,
                        sum(cast({{ counted }} as double)) over (partition by {{ by }})
                        / sum(cast({{ total }} as double)) over (partition by {{ by }}) as center
                    from {{ relation }}
                    where {{ counted }} is not null and {{ total }} > 0
                ) as chart_points
            ) as chart_scores
        ) as chart_pairs
    ) as chart_spread
{%- endmacro %}


{% macro cut_limit(limit, ceiling) -%}
    case
        when {{ limit }} < 0.0 then 0.0
        {%- if ceiling %}
        when {{ limit }} > {{ ceiling }} then {{ ceiling }}
        {%- endif %}
        else {{ limit }}
    end
{%- endmacro %}


{# z of a share after a change against the share before it, with the pooled spread; 0 or all in
   both gives null. Positive when the share fell. #}
{% macro share_shift_z(before, before_total, after, after_total) -%}
    (
        (cast({{ before }} as double) / {{ before_total }}
        - cast({{ after }} as double) / {{ after_total }})
        / nullif(sqrt(
            cast({{ before }} + {{ after }} as double) / ({{ before_total }} + {{ after_total }})
            * (1.0 - cast({{ before }} + {{ after }} as double)
                / ({{ before_total }} + {{ after_total }}))
            * (1.0 / {{ before_total }} + 1.0 / {{ after_total }})
        ), 0.0)
    )
{%- endmacro %}
