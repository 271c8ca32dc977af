{# Condition that two relations speak of the same cell of finished rows. #}
{% macro same_cell(one, other) -%}
    {{ same_keys(one, other, finished_keys().split(', ')) }}
{%- endmacro %}
