{# Chi-square distribution: the share above x (the p of a chi-square test).

   x   an expression; 1 at and below 0
   df  degrees of freedom, above 0, fractions allowed; null otherwise
   Error (measured): below 4e-14 for df up to 200, 2e-13 to 5,000, 5e-11 to 1e6; far tails below
   2e-13 of the value for df up to 60.
   The upper incomplete gamma function Q(df / 2, x / 2): one minus the series left of df / 2 + 1,
   the continued fraction right of it, with as many steps as df needs (no more than 10,000: df up
   to 1e6). DLMF 8.11.4 and 8.9.2 (from memory; checked against scipy).
#}
{% macro chi_square_upper(x, df) -%}
    {%- set body -%}
        case
            when not g_q.a > 0.0 then null
            when g_q.x <= 0.0 then 1.0
            when g_q.x < g_q.a + 1.0
                then 1.0 - exp({{ gamma_log_front('g_q') }}) * {{ gamma_lower_over_front('g_q') }}
            else exp({{ gamma_log_front('g_q') }}) * {{ gamma_upper_over_front('g_q') }}
        end
    {%- endset -%}
    {{ let_in('g_q', record({'x': '0.5 * (' ~ x ~ ')', 'a': '0.5 * (' ~ df ~ ')'}), body) }}
{%- endmacro %}


{# Logarithm of x^a e^-x / Gamma(a), for a record with the fields a and x. #}
{% macro gamma_log_front(r) -%}
    ({{ r }}.a * ln({{ r }}.x / {{ r }}.a) + {{ r }}.a - {{ r }}.x
    + 0.5 * ln({{ r }}.a / (2.0 * pi())) - ({{ stirling_rest(r ~ '.a') }}))
{%- endmacro %}


{# The share below over that factor: 1/a (1 + x/(a+1) (1 + x/(a+2) (1 + ...))). #}
{% macro gamma_lower_over_front(r) -%}
    ({{ fold('g_f', 'g_k', gamma_lower_steps(r ~ '.a'), '1.0',
        '1.0 + ' ~ r ~ '.x / (' ~ r ~ '.a + g_k) * g_f') }} / {{ r }}.a)
{%- endmacro %}


{# The share above over that factor: 1/(x + 1 - a - 1 (1 - a)/(x + 3 - a - 2 (2 - a)/(...))). #}
{% macro gamma_upper_over_front(r) -%}
    {%- set steps = gamma_upper_steps(r ~ '.a') -%}
    {%- set step -%}
        {{ r }}.x + 2.0 * g_k - 1.0 - {{ r }}.a - g_k * (g_k - {{ r }}.a) / g_f
    {%- endset -%}
    (1.0 / {{ fold('g_f', 'g_k', steps, r ~ '.x + 2.0 * ' ~ steps, step) }})
{%- endmacro %}


{# How many steps each needs: found by trying, with some to spare. #}
{% macro gamma_lower_steps(a) %}least(10000.0, 25.0 + 10.0 * sqrt({{ a }})){% endmacro %}


{% macro gamma_upper_steps(a) %}least(10000.0, 70.0 + 8.0 * sqrt({{ a }})){% endmacro %}
