{# Quantile of Student's t above the median: Hill (1970), Algorithm 396.

   p   a number or column with 0.5 < p < 1
   df  degrees of freedom, 1 or more; null below 1
   Exact for 1 and 2; relative error below 1e-5 for 3 and more (tested for p up to 0.9995).
#}
{% macro t_quantile(p, df) -%}
    {%- set two_tails = '(2.0 * (1.0 - t_p))' -%}
    {%- set body -%}
        case
            when t_n < 1.0 then null
            when t_n = 1.0 then 1.0 / tan({{ two_tails }} * pi() / 2.0)
            when t_n = 2.0
                then sqrt(2.0 / ({{ two_tails }} * (2.0 - {{ two_tails }})) - 2.0)
            else {{ t_quantile_hill(two_tails) }}
        end
    {%- endset -%}
    {{ let_in('t_p', 'cast(' ~ p ~ ' as double)',
        let_in('t_n', 'cast(' ~ df ~ ' as double)', body)) }}
{%- endmacro %}


{# Hill's two expansions; letters as in the paper, x is the (negative) normal quantile. #}
{% macro t_quantile_hill(two_tails) -%}
    {%- set central -%}
        ((1.0 / (((t_n + 6.0) / (t_n * t_y) - 0.089 * t_d - 0.822) * (t_n + 2.0) * 3.0)
        + 0.5 / (t_n + 4.0)) * t_y - 1.0) * (t_n + 1.0) / (t_n + 2.0) + 1.0 / t_y
    {%- endset -%}
    {%- set shifted -%}
        t_c + case when t_n < 5.0 then 0.3 * (t_n - 4.5) * (t_x + 0.6) else 0.0 end
    {%- endset -%}
    {%- set scaled -%}
        (((0.05 * t_d * t_x - 5.0) * t_x - 7.0) * t_x - 2.0) * t_x + t_b + t_e
    {%- endset -%}
    {%- set exponent -%}
        t_a * power(
            (((((0.4 * t_s + 6.3) * t_s + 36.0) * t_s + 94.5) / t_g - t_s - 3.0) / t_b + 1.0) * t_x,
            2
        )
    {%- endset -%}
    {%- set growth = 'case when t_h <= 0.002 then t_h + 0.5 * t_h * t_h else exp(t_h) - 1.0 end' -%}
    {%- set from_normal -%}
        {{ let_in('t_x', normal_quantile('1.0 - t_p'), let_in('t_s', 't_x * t_x',
            let_in('t_e', shifted, let_in('t_g', scaled, let_in('t_h', exponent, growth))))) }}
    {%- endset -%}
    {{ let_in('t_a', '1.0 / (t_n - 0.5)',
        let_in('t_b', '48.0 / (t_a * t_a)',
        let_in('t_c', '((20700.0 * t_a / t_b - 98.0) * t_a - 16.0) * t_a + 96.36',
        let_in('t_d', '((94.5 / (t_b + t_c) - 3.0) / t_b + 1.0) * sqrt(t_a * pi() / 2.0) * t_n',
        let_in('t_y', 'power(t_d * ' ~ two_tails ~ ', 2.0 / t_n)',
        'sqrt(t_n * case when t_y > 0.05 + t_a then ' ~ from_normal ~ ' else '
        ~ central ~ ' end)'))))) }}
{%- endmacro %}
