{# Children of one side, those a whole turn short, and the sums that `log_ratio_variance` needs. #}
{% macro sums_of_side(side) -%}
    {%- set only = "filter (where side_code = '" ~ side ~ "')" -%}
    count(*) {{ only }} as {{ side }}_pupil_count,
    coalesce(sum(short_count) {{ only }}, 0) as {{ side }}_short_count,
    coalesce(sum(turn_count) {{ only }}, 0) as {{ side }}_turn_count,
    coalesce(sum(expected_count) {{ only }}, 0) as {{ side }}_expected_count,
    sum(turn_count * turn_count) {{ only }} as {{ side }}_turn_squares,
    sum(turn_count * expected_count) {{ only }} as {{ side }}_products,
    sum(expected_count * expected_count) {{ only }} as {{ side }}_expected_squares
{%- endmacro %}
