{# Points with their side of the center, as a query: what `run_chart` and `runs_test` build on.

   relation, keys, order_by, value, center   as for `run_chart`
   Columns out: those of `series_in_order`, `center`, `run_side`: 1 above, -1 below, 0 on it.
#}
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
