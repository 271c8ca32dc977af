{# The place between two numbers at which a condition, true below it, becomes false.

   name       what the condition calls the number, a name used nowhere else
   low, high  the ends, as expressions; the answer is one of them when nothing turns between them
   condition  an expression of that name
   steps      halvings: 52 leave an error of (high - low) / 2^53
   Halves the way that is left, so it needs the condition to turn once and nothing else. For limits
   that no formula gives; the condition is worked out `steps` times.
#}
{% macro turning_point(name, low, high, condition, steps=52) -%}
    {%- set step -%}
        {{ name }} + case when {{ condition }} then 1.0 else -1.0 end
        * (({{ high }}) - ({{ low }})) * power(0.5, {{ steps }} + 2 - halving)
    {%- endset -%}
    {{ fold(name, 'halving', steps, '0.5 * (' ~ low ~ ') + 0.5 * (' ~ high ~ ')', step) }}
{%- endmacro %}
