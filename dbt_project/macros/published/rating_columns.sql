{# What was rated and how often each step of the scale was given. #}
{% macro rating_columns(relation) -%}
    {{ relation }}.rating_code,
    {%- for step in range(4) %}
    {{ relation }}.rating_{{ step }}_count,
    {%- endfor %}
    {{ relation }}.rating_count
{%- endmacro %}
