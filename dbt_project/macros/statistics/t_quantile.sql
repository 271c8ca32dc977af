{# Quantile of Student's t above the median: Hill (1970), Algorithm 396.

   p   a number with 0.5 < p < 1
   df  column with the degrees of freedom, 1 or more; null below 1
   Exact for 1 and 2; relative error below 1e-5 for 3 and more (tested for p up to 0.9995).
   Both may be expressions; they are repeated, so keep them short.
#}
{% macro t_quantile(p, df) -%}
    {%- set p = '(' ~ p ~ ')' -%}
    {%- set tails = '(2.0 * (1.0 - ' ~ p ~ '))' -%}
    case
        when {{ df }} < 1 then null
        when {{ df }} = 1 then 1.0 / tan({{ tails }} * pi() / 2.0)
        when {{ df }} = 2 then sqrt(2e0 / ({{ tails }} * (2.0 - {{ tails }})) - 2.0)
        else {{ t_quantile_hill(p, tails, df) }}
    end
{%- endmacro %}


{# Hill's two expansions; letters as in the paper, x is the (negative) normal quantile. #}
{% macro t_quantile_hill(p, tails, df) -%}
    {%- set n = 'cast(' ~ df ~ ' as double)' -%}
    {%- set a = '(1.0 / (' ~ n ~ ' - 0.5))' -%}
    {%- set b = '(48.0 * (' ~ n ~ ' - 0.5) * (' ~ n ~ ' - 0.5))' -%}
    {%- set c = '(((20700.0 * ' ~ a ~ ' / ' ~ b ~ ' - 98.0) * ' ~ a ~ ' - 16.0) * ' ~ a
        ~ ' + 96.36)' -%}
    {%- set d = '(((94.5 / (' ~ b ~ ' + ' ~ c ~ ') - 3.0) / ' ~ b ~ ' + 1.0) * sqrt(' ~ a
        ~ ' * pi() / 2.0) * ' ~ n ~ ')' -%}
    {%- set central -%}
        ((1.0 / ((({{ n }} + 6.0) / ({{ n }} * t_y) - 0.089 * {{ d }} - 0.822)
        * ({{ n }} + 2.0) * 3.0) + 0.5 / ({{ n }} + 4.0)) * t_y - 1.0)
        * ({{ n }} + 1.0) / ({{ n }} + 2.0) + 1.0 / t_y
    {%- endset -%}
    {%- set scaled -%}
        ((((0.05 * {{ d }} * t_x - 5.0) * t_x - 7.0) * t_x - 2.0) * t_x + {{ b }} + {{ c }}
        + case when {{ n }} < 5.0 then 0.3 * ({{ n }} - 4.5) * (t_x + 0.6) else 0.0 end)
    {%- endset -%}
    {%- set exponent -%}
        {{ a }} * power(
            (((((0.4 * t_x * t_x + 6.3) * t_x * t_x + 36.0) * t_x * t_x + 94.5) / {{ scaled }}
            - t_x * t_x - 3.0) / {{ b }} + 1.0) * t_x, 2
        )
    {%- endset -%}
    {%- set growth = 'case when t_h <= 0.002 then t_h + 0.5 * t_h * t_h else exp(t_h) - 1.0 end' -%}
    {%- set from_normal = let_in(
        't_h', let_in('t_x', normal_quantile('1.0 - ' ~ p), exponent), growth) -%}
    {{ let_in('t_y', 'power(' ~ d ~ ' * ' ~ tails ~ ', 2.0 / ' ~ n ~ ')',
        'sqrt(' ~ n ~ ' * case when t_y > 0.05 + ' ~ a ~ ' then ' ~ from_normal
        ~ ' else ' ~ central ~ ' end)') }}
{%- endmacro %}
