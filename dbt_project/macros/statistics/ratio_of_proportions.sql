{# Ratio of two independent shares, first over second, with limits.

   x1, n1, x2, n2   successes and trials; they may be fractional (an effective number of looks)
   level            two-sided level as a number
   katz_*           logarithm and normal quantile: Katz et al. (1978); null when a count is zero.
                    With one half added to all four counts it is the adjusted log interval (Walter
                    1975): give '(x1 + 0.5)' and so on
   mover_ratio_*    from the Wilson limits of both shares: Fagerland & Newcombe (2013), MOVER-R;
                    the upper limit is null (no limit) when the second share is zero
   clustered_ratio_*  the latter for looks that come in clusters, m1 and m2 of them on each side:
                    every look counts for what it is worth (`effective_count`)
#}
{% macro ratio_of_proportions(x1, n1, x2, n2) -%}
    (cast({{ x1 }} as double) / nullif({{ n1 }}, 0)
    / nullif(cast({{ x2 }} as double) / nullif({{ n2 }}, 0), 0.0))
{%- endmacro %}


{% macro katz_low(x1, n1, x2, n2, level) -%}
    {{ katz_limit(x1, n1, x2, n2, level, '-') }}
{%- endmacro %}


{% macro katz_high(x1, n1, x2, n2, level) -%}
    {{ katz_limit(x1, n1, x2, n2, level, '+') }}
{%- endmacro %}


{% macro katz_limit(x1, n1, x2, n2, level, sign) -%}
    (nullif({{ ratio_of_proportions(x1, n1, x2, n2) }}, 0.0)
    * exp({{ sign }}{{ two_sided_z(level) }} * sqrt(
        1e0 / nullif({{ x1 }}, 0) - 1e0 / nullif({{ n1 }}, 0)
        + 1e0 / nullif({{ x2 }}, 0) - 1e0 / nullif({{ n2 }}, 0)
    )))
{%- endmacro %}


{% macro mover_ratio_low(x1, n1, x2, n2, level) -%}
    {{ mover_ratio_limit(x1, n1, x2, n2, level, '-', '+') }}
{%- endmacro %}


{% macro mover_ratio_high(x1, n1, x2, n2, level) -%}
    case
        when {{ x2 }} > 0.0 then {{ mover_ratio_limit(x1, n1, x2, n2, level, '+', '-') }}
    end
{%- endmacro %}


{% macro mover_ratio_limit(x1, n1, x2, n2, level, sign, other) -%}
    {%- set body -%}
        (w_s.p1 * w_s.p2 {{ sign }} sqrt(greatest(0.0, w_s.p1 * w_s.p2 * w_s.p1 * w_s.p2
        - w_s.end1 * (2.0 * w_s.p1 - w_s.end1) * w_s.end2 * (2.0 * w_s.p2 - w_s.end2))))
        / (w_s.end2 * (2.0 * w_s.p2 - w_s.end2))
    {%- endset -%}
    {{ with_two_shares(x1, n1, x2, n2, level, sign, other, body) }}
{%- endmacro %}


{% macro clustered_ratio_low(x1, n1, m1, x2, n2, m2, rho, level) -%}
    {{ mover_ratio_low(
        effective_successes(x1, n1, m1, rho), effective_count(n1, m1, rho),
        effective_successes(x2, n2, m2, rho), effective_count(n2, m2, rho), level) }}
{%- endmacro %}


{% macro clustered_ratio_high(x1, n1, m1, x2, n2, m2, rho, level) -%}
    {{ mover_ratio_high(
        effective_successes(x1, n1, m1, rho), effective_count(n1, m1, rho),
        effective_successes(x2, n2, m2, rho), effective_count(n2, m2, rho), level) }}
{%- endmacro %}
