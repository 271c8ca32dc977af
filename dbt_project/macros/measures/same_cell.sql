{# Condition that two relations speak of the same cell of finished rows. #}
{% macro same_cell(one, other, keys=none) -%}
    {%- for key in keys or finished_keys().split(', ') %}
    {{ "and " if not loop.first }}{{ one }}.{{ key }} = {{ other }}.{{ key }}
    {%- endfor %}
{%- endmacro %}
