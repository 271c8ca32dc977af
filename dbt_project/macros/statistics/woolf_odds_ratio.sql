{# Limits of the odds ratio of two independent shares, first over second: Woolf (1955).

   x1, n1, x2, n2   successes and trials; null when a count or its rest is zero
   level            two-sided level as a number
   Logarithm and normal quantile. From memory; checked against statsmodels.
#}
{% macro woolf_low(x1, n1, x2, n2, level) -%}
    {{ woolf_limit(x1, n1, x2, n2, level, '-') }}
{%- endmacro %}


{% macro woolf_high(x1, n1, x2, n2, level) -%}
    {{ woolf_limit(x1, n1, x2, n2, level, '+') }}
{%- endmacro %}


{% macro woolf_limit(x1, n1, x2, n2, level, sign) -%}
    {%- set body -%}
        w_c.a * w_c.d / (w_c.b * w_c.c) * exp({{ sign }}{{ two_sided_z(level) }}
        * sqrt(1.0 / w_c.a + 1.0 / w_c.b + 1.0 / w_c.c + 1.0 / w_c.d))
    {%- endset -%}
    {{ let_in('w_c', record({
        'a': 'nullif(' ~ x1 ~ ', 0)', 'b': 'nullif((' ~ n1 ~ ') - (' ~ x1 ~ '), 0)',
        'c': 'nullif(' ~ x2 ~ ', 0)', 'd': 'nullif((' ~ n2 ~ ') - (' ~ x2 ~ '), 0)',
    }), body) }}
{%- endmacro %}
