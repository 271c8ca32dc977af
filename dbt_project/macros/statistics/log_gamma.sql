{# Logarithm of the gamma function for z > 0, by Stirling's series; null at zero and below.

   z  an expression; it is repeated, so name it first (`let_in`) when it is long
   Error (measured): below 3e-14 up to z = 30, below 5e-15 of the value elsewhere to 1e15.
   `stirling_rest(z)` is what the leading terms leave: log_gamma(z) = (z - 1/2) ln z - z + ln(2
   pi)/2 + stirling_rest(z). Ratios of gamma functions use it alone, because their leading terms
   cancel. Below 10 the argument is moved up by 10 through z (z + 1) ... (z + 9).
   Abramowitz & Stegun 6.1.15 and 6.1.41 (from memory; checked against scipy).
#}
{% macro log_gamma(z) -%}
    {%- set n = 'cast(' ~ z ~ ' as double)' -%}
    case
        when {{ n }} > 0.0 then
            ({{ n }} - 0.5) * ln({{ n }}) - {{ n }} + 0.5 * ln(2.0 * pi()) + {{ stirling_rest(n) }}
    end
{%- endmacro %}


{% macro stirling_rest(z) -%}
    case
        when {{ z }} >= 10.0 then {{ stirling_series(z) }}
        when {{ z }} > 0.0 then
            {{ stirling_series('(' ~ z ~ ' + 10.0)') }}
            + ({{ z }} + 9.5) * ln({{ z }} + 10.0) - 10.0 - ({{ z }} - 0.5) * ln({{ z }})
            - ln({{ z }}{% for k in range(1, 10) %} * ({{ z }} + {{ k }}.0){% endfor %})
    end
{%- endmacro %}


{# Written 1e0: one engine divides 1.0 by 12.0 as decimals, to six places. #}
{% macro stirling_series(z) -%}
    (1e0 / 12.0 - (1e0 / 360.0 - (1e0 / 1260.0 - (1e0 / 1680.0 - 1e0 / 1188.0 / ({{ z }} * {{ z }})
    ) / ({{ z }} * {{ z }})) / ({{ z }} * {{ z }})) / ({{ z }} * {{ z }})) / {{ z }}
{%- endmacro %}
