{# Quantile of the gamma distribution with a whole shape and scale 1; twice it is chi-square's.

   p      0 < p < 1, a number
   shape  1, 2, 3, ...; null below 1
   Above 20 the expansion of Goldberg & Levine (1946), relative error below 1e-5 for p from 0.0005
   to 0.9995. From 1 to 20 six Newton steps on the finite Poisson sum, relative error below 1e-9.
#}
{% macro gamma_quantile(p, shape) -%}
    {%- set p = '(' ~ p ~ ')' -%}
    {%- set body -%}
        case
            when g_a < 1.0 then null
            when g_a = 1.0 then -ln(1.0 - {{ p }})
            when g_a > 20.0 then {{ let_in('g_z', normal_quantile(p), gamma_expansion()) }}
            else {{ gamma_newton(p) }}
        end
    {%- endset -%}
    {{ let_in('g_a', 'cast(' ~ shape ~ ' as double)', body) }}
{%- endmacro %}


{# Half of chi-square at 2 x shape degrees of freedom; Abramowitz & Stegun 26.4 give the terms. #}
{% macro gamma_expansion() -%}
    {%- set terms -%}
        0.5 * (
            g_v + sqrt(2.0 * g_v) * g_z + 2e0 / 3.0 * (power(g_z, 2) - 1.0)
            + (power(g_z, 3) - 7.0 * g_z) / (9.0 * sqrt(2.0 * g_v))
            - (6.0 * power(g_z, 4) + 14.0 * power(g_z, 2) - 32.0) / (405.0 * g_v)
            + (9.0 * power(g_z, 5) + 256.0 * power(g_z, 3) - 433.0 * g_z)
            / (4860.0 * sqrt(2.0) * power(g_v, 1.5))
            + (12.0 * power(g_z, 6) - 243.0 * power(g_z, 4) - 923.0 * power(g_z, 2) + 1472.0)
            / (25515.0 * power(g_v, 2))
            - (3753.0 * power(g_z, 7) + 4353.0 * power(g_z, 5) - 289517.0 * power(g_z, 3)
            - 289717.0 * g_z) / (9185400.0 * sqrt(2.0) * power(g_v, 2.5))
        )
    {%- endset -%}
    {{ terms | replace('g_v', '(2.0 * g_a)') }}
{%- endmacro %}


{# Wilson & Hilferty (1931) as a start, then Newton on 1 - P(Poisson(x) < shape) = p. #}
{% macro gamma_newton(p) -%}
    {%- set ns = namespace(sum='1.0') -%}
    {%- for k in range(19, 0, -1) -%}
        {%- set ns.sum = '(1.0 + case when g_a > ' ~ k ~ '.0 then g_x / ' ~ k ~ '.0 * ' ~ ns.sum
            ~ ' else 0.0 end)' -%}
    {%- endfor -%}
    {%- set density = 'exp(-g_x + (g_a - 1.0) * ln(g_x)) / factorial(cast(g_a as integer) - 1)' -%}
    {%- set next_x -%}
        greatest(g_x / 5.0, g_x + (exp(-g_x) * {{ ns.sum }} - (1.0 - {{ p }})) / ({{ density }}))
    {%- endset -%}
    {%- set start -%}
        g_a * power(
            greatest(
                0.1, 1.0 - 1.0 / (9.0 * g_a) + {{ normal_quantile(p) }} / (3.0 * sqrt(g_a))
            ), 3
        )
    {%- endset -%}
    {{ iterate('g_x', start, 6, next_x) }}
{%- endmacro %}
