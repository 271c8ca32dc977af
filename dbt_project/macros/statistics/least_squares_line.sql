{# The least-squares line through the points of each group, as a query.

   relation   name of a CTE or table; keys: list of its columns
   x, y       numeric columns; points where either is null are left out
   Columns out: the keys, `point_count`, `mean_x`, `mean_y`, `slope`, `intercept` (null when all x
   are alike), `residual_df` (points - 2), `residual_variance` and `slope_se` (null below three
   points).
#}
{% macro least_squares_line(relation, keys, x, y) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        line_n as point_count,
        line_mean_x as mean_x,
        line_mean_y as mean_y,
        line_xy / line_xx as slope,
        line_mean_y - line_mean_x * line_xy / line_xx as intercept,
        line_n - 2 as residual_df,
        {{ line_residual() }} as residual_variance,
        sqrt({{ line_residual() }} / line_xx) as slope_se
    from (
        select
            {{ by }},
            count(*) as line_n,
            max(line_mean_x) as line_mean_x,
            max(line_mean_y) as line_mean_y,
            nullif(sum(power(line_x - line_mean_x, 2)), 0.0) as line_xx,
            sum((line_x - line_mean_x) * (line_y - line_mean_y)) as line_xy,
            sum(power(line_y - line_mean_y, 2)) as line_yy
        from (
            select
                {{ by }},
                cast({{ x }} as double) as line_x,
                cast({{ y }} as double) as line_y,
                avg(cast({{ x }} as double)) over (partition by {{ by }}) as line_mean_x,
                avg(cast({{ y }} as double)) over (partition by {{ by }}) as line_mean_y
            from {{ relation }}
            where {{ x }} is not null and {{ y }} is not null
        ) as line_points
        group by {{ by }}
    ) as line_sums
{%- endmacro %}


{% macro line_residual() -%}
    case
        when line_n > 2
            then {{ not_below_zero('(line_yy - line_xy * line_xy / line_xx)') }} / (line_n - 2)
    end
{%- endmacro %}
