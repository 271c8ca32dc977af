{# What the signals of a series say, the same for the team and for the class's own teacher. #}
{% macro change_columns(row) %}
    {{ row }}.baseline_first_on,
    {{ row }}.baseline_code,
    {{ row }}.last_visit_on,
    {{ row }}.signal_code,
    {{ row }}.trend_code,
    {{ row }}.is_last_outside,
    {{ row }}.is_average_outside,
    cast({{ row }}.visit_count as bigint) as visit_count,
    {{ run_columns(row) }},
    {{ row }}.average_value,
    {{ row }}.average_low,
    {{ row }}.average_high,
    {{ row }}.slope,
    {{ row }}.slope_low,
    {{ row }}.slope_high,
    {{ row }}.trend_p,
    cast({{ threshold('slope_days') }} as bigint) as slope_days
{%- endmacro %}


{# The runs and limits that a class and the school have in common. #}
{% macro run_columns(row) -%}
    {%- set counts = ['point_count', 'useful_count', 'longest_run', 'run_limit', 'crossing_count',
        'crossing_limit', 'outside_count'] -%}
    {%- for figure in counts -%}
    cast({{ row }}.{{ figure }} as bigint) as {{ figure }},
    {% endfor -%}
    {%- for figure in ['median_value', 'last_value', 'mean_value', 'limit_low', 'limit_high'] -%}
    {{ row }}.{{ figure }}{{ ',\n    ' if not loop.last }}
    {%- endfor -%}
{%- endmacro %}
