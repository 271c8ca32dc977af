{# Two relations about the same group, as a join condition. #}
{% macro same_keys(one, other, keys) -%}
    {%- for key in keys -%}
        {{ one }}.{{ key }} = {{ other }}.{{ key }}{{ ' and ' if not loop.last }}
    {%- endfor -%}
{%- endmacro %}


{# The key columns of one relation, named. #}
{% macro keys_of(relation, keys) -%}
    {%- for key in keys -%}
        {{ relation }}.{{ key }}{{ ', ' if not loop.last }}
    {%- endfor -%}
{%- endmacro %}
