{# Quantile of the chi-square distribution: the x with the share p below it.

   p   0 < p < 1, an expression; null outside
   df  degrees of freedom, above 0, fractions allowed; null otherwise
   Relative error (measured, p from 1e-10 to 1 - 1e-10): below 2e-12 for df from 0.5 to 5, 1e-12 to
   1e5; 1e-10 down to df 0.12.
   Newton steps on the logarithm of the nearer tail over ln x, which is concave, so that they cannot
   run away; from the start of Wilson & Hilferty (1931). What no number can hold comes out as
   2 exp(-700).
#}
{% macro chi_square_quantile(p, df) -%}
    {%- set start = gamma_start('g_g.p', 'g_g.a') -%}
    {%- set body -%}
        case
            when g_g.p > 0.0 and g_g.p < 1.0 and g_g.a > 0.0
                then 2.0 * exp({{ iterate('g_u', start, 9, gamma_quantile_step()) }})
        end
    {%- endset -%}
    {{ let_in('g_g', record({'p': p, 'a': '0.5 * (' ~ df ~ ')'}), body) }}
{%- endmacro %}


{# Logarithm of Wilson & Hilferty's gamma quantile, not below that of a thousandth of the shape. #}
{% macro gamma_start(p, a) -%}
    (ln({{ a }}) + 3.0 * ln(greatest(
        0.1, 1.0 - 1.0 / (9.0 * {{ a }}) + {{ normal_quantile(p) }} / (3.0 * sqrt({{ a }}))
    )))
{%- endmacro %}


{# One step: g_h.f is the logarithm of the factor in front, g_h.r the tail of that side over it. #}
{% macro gamma_quantile_step() -%}
    {%- set is_left = 'exp(g_u) < g_g.a + 1.0' -%}
    {%- set tail -%}
        case when {{ is_left }} then {{ gamma_lower_over_front('g_q') }}
            else {{ gamma_upper_over_front('g_q') }} end
    {%- endset -%}
    {%- set parts = let_in('g_q', record({'x': 'exp(g_u)', 'a': 'g_g.a'}),
        record({'f': gamma_log_front('g_q'), 'r': tail})) -%}
    {%- set wanted -%}
        case when (g_g.p <= 0.5) = ({{ is_left }}) then g_h.r else exp(-g_h.f) - g_h.r end
    {%- endset -%}
    {%- set step -%}
        greatest(-700.0, g_u + case when g_g.p <= 0.5 then 1.0 else -1.0 end
        * (ln(least(g_g.p, 1.0 - g_g.p)) - g_h.f - ln(g_r)) * g_r)
    {%- endset -%}
    {{ let_in('g_h', parts, let_in('g_r', wanted, step)) }}
{%- endmacro %}
