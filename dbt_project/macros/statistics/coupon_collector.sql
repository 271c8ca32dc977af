{# Draws until everyone has been drawn once, every card going back at once: mean and variance.

   pupils   1 or more; null below 1
   Mean n H_n, variance n^2 (1 + 1/4 + ... + 1/n^2) - n H_n (Feller 1968, IX.3; from memory).
   The sums come from their expansions at n + 10, less ten terms: relative error below 1e-11.
#}
{% macro coupon_collector_mean(pupils) -%}
    {%- set n = 'cast(' ~ pupils ~ ' as double)' -%}
    case when {{ pupils }} >= 1 then {{ n }} * {{ harmonic_sum(n) }} end
{%- endmacro %}


{% macro coupon_collector_variance(pupils) -%}
    {%- set n = 'cast(' ~ pupils ~ ' as double)' -%}
    case
        when {{ pupils }} >= 1 then
            {{ n }} * ({{ n }} * {{ square_sum(n) }} - {{ harmonic_sum(n) }})
    end
{%- endmacro %}


{# 1 + 1/2 + ... + 1/n (Abramowitz & Stegun 6.3.18, from memory). #}
{% macro harmonic_sum(n) -%}
    {%- set m = '(' ~ n ~ ' + 10.0)' -%}
    (
        ln({{ m }}) + 0.57721566490153286 + 1.0 / (2.0 * {{ m }}) - 1.0 / (12.0 * power({{ m }}, 2))
        + 1.0 / (120.0 * power({{ m }}, 4)) - 1.0 / (252.0 * power({{ m }}, 6))
        + 1.0 / (240.0 * power({{ m }}, 8))
        {%- for step in range(1, 11) %}
        - 1.0 / ({{ n }} + {{ step }}.0)
        {%- endfor %}
    )
{%- endmacro %}


{# 1 + 1/4 + ... + 1/n^2 (Abramowitz & Stegun 6.4.12, from memory). #}
{% macro square_sum(n) -%}
    {%- set m = '(' ~ n ~ ' + 10.0)' -%}
    (
        pi() * pi() / 6.0 - 1.0 / {{ m }} + 1.0 / (2.0 * power({{ m }}, 2))
        - 1.0 / (6.0 * power({{ m }}, 3)) + 1.0 / (30.0 * power({{ m }}, 5))
        - 1.0 / (42.0 * power({{ m }}, 7)) + 1.0 / (30.0 * power({{ m }}, 9))
        {%- for step in range(1, 11) %}
        - 1.0 / power({{ n }} + {{ step }}.0, 2)
        {%- endfor %}
    )
{%- endmacro %}
