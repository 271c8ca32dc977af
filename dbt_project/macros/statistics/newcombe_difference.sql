{# Difference of two independent shares, first minus second: Newcombe (1998b), method 10.

   x1, n1, x2, n2   successes and trials; they may be fractional (an effective number of looks)
   level            two-sided level as a number
   Squares and adds the Wilson limits of both shares, so the limits stay in [-1, 1] and hold at 0
   and 1 too. Null when nothing was looked at on one side.
#}
{% macro newcombe_low(x1, n1, x2, n2, level) -%}
    {{ newcombe_limit(x1, n1, x2, n2, level, '-', '+') }}
{%- endmacro %}


{% macro newcombe_high(x1, n1, x2, n2, level) -%}
    {{ newcombe_limit(x1, n1, x2, n2, level, '+', '-') }}
{%- endmacro %}


{% macro newcombe_limit(x1, n1, x2, n2, level, sign, other) -%}
    {%- set body -%}
        w_s.p1 - w_s.p2 {{ sign }} sqrt(
            (w_s.p1 - w_s.end1) * (w_s.p1 - w_s.end1) + (w_s.end2 - w_s.p2) * (w_s.end2 - w_s.p2)
        )
    {%- endset -%}
    {{ with_two_shares(x1, n1, x2, n2, level, sign, other, body) }}
{%- endmacro %}


{# The same for looks that come in clusters (visits): each side counts for what its looks are worth.

   m1, m2   clusters on each side; rho: how alike the looks of one cluster are (`effective_count`)
   Rao & Scott (1992) divide the counts by the design effect in this way (from memory).
#}
{% macro clustered_difference_low(x1, n1, m1, x2, n2, m2, rho, level) -%}
    {{ newcombe_low(
        effective_successes(x1, n1, m1, rho), effective_count(n1, m1, rho),
        effective_successes(x2, n2, m2, rho), effective_count(n2, m2, rho), level) }}
{%- endmacro %}


{% macro clustered_difference_high(x1, n1, m1, x2, n2, m2, rho, level) -%}
    {{ newcombe_high(
        effective_successes(x1, n1, m1, rho), effective_count(n1, m1, rho),
        effective_successes(x2, n2, m2, rho), effective_count(n2, m2, rho), level) }}
{%- endmacro %}


{% macro effective_successes(successes, trials, clusters, rho) -%}
    ({{ effective_count(trials, clusters, rho) }} * ({{ successes }}) / nullif({{ trials }}, 0))
{%- endmacro %}


{# A body that reads two shares, w_s.p1 and w_s.p2, and one Wilson end of each: w_s.end1 on the side
   `sign`, w_s.end2 on the side `other`, each '-' or '+'.
#}
{% macro with_two_shares(x1, n1, x2, n2, level, sign, other, body) -%}
    {%- set shares = record({
        'p1': 'cast(' ~ x1 ~ ' as double) / nullif(' ~ n1 ~ ', 0)',
        'p2': 'cast(' ~ x2 ~ ' as double) / nullif(' ~ n2 ~ ', 0)',
        'end1': wilson_bound(x1, n1, 'w_z', sign), 'end2': wilson_bound(x2, n2, 'w_z', other),
    }) -%}
    {{ let_in('w_z', two_sided_z(level), let_in('w_s', shares, body)) }}
{%- endmacro %}
