{# A share at the edge of the marts: nine places, null when there is nothing to divide by. #}
{% macro rounded_share(numerator, denominator) -%}
    round(cast({{ numerator }} as double) / nullif(cast({{ denominator }} as double), 0.0), 9)
{%- endmacro %}
