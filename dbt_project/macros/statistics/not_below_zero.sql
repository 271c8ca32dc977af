{# 0 instead of a negative number; null stays null, which greatest() would turn into 0. #}
{% macro not_below_zero(value) -%}
    case when {{ value }} < 0.0 then 0.0 else {{ value }} end
{%- endmacro %}
