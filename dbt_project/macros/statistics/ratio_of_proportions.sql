{# Ratio of two independent shares, first over second, with limits.

   x1, n1, x2, n2   successes and trials; they may be fractional (an effective number of looks)
   level            two-sided level as a number
   katz_*           logarithm and normal quantile: Katz et al. (1978); null when a count is zero.
                    With one half added to all four counts it is the adjusted log interval (Walter
                    1975): give '(x1 + 0.5)' and so on
   mover_ratio_*    from the Wilson limits of both shares: Fagerland & Newcombe (2013), MOVER-R;
                    the upper limit is null (no limit) when the second share is zero
   koopman_*        inverts a score test: Koopman (1984); the upper limit is null in the same case
   woolf_*          odds ratio: Woolf (1955); null when a count or its rest is zero
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
    {%- set shares = record({
        'p1': 'cast(' ~ x1 ~ ' as double) / nullif(' ~ n1 ~ ', 0)',
        'p2': 'cast(' ~ x2 ~ ' as double) / nullif(' ~ n2 ~ ', 0)',
        'end1': wilson_bound(x1, n1, 'w_z', sign), 'end2': wilson_bound(x2, n2, 'w_z', other),
    }) -%}
    {%- set body -%}
        (w_s.p1 * w_s.p2 {{ sign }} sqrt(greatest(0.0, w_s.p1 * w_s.p2 * w_s.p1 * w_s.p2
        - w_s.end1 * (2.0 * w_s.p1 - w_s.end1) * w_s.end2 * (2.0 * w_s.p2 - w_s.end2))))
        / (w_s.end2 * (2.0 * w_s.p2 - w_s.end2))
    {%- endset -%}
    {{ let_in('w_z', two_sided_z(level), let_in('w_s', shares, body)) }}
{%- endmacro %}


{% macro koopman_low(x1, n1, x2, n2, level) -%}
    case
        when {{ x1 }} = 0 and {{ n1 }} > 0 and {{ n2 }} > 0 then 0.0
        else exp({{ koopman_log_limit(x1, n1, x2, n2, level) }})
    end
{%- endmacro %}


{# The upper limit is one over the lower limit of the ratio the other way round. #}
{% macro koopman_high(x1, n1, x2, n2, level) -%}
    case
        when {{ x2 }} > 0 then exp(-{{ koopman_log_limit(x2, n2, x1, n1, level) }})
    end
{%- endmacro %}


{# k_p is the second share's likeliest place when the ratio is exp(k_r): a root of a square. #}
{% macro koopman_log_limit(x1, n1, x2, n2, level) -%}
    {%- set given = record({
        'x1': x1, 'n1': n1, 'x2': x2, 'n2': n2, 'z': two_sided_z(level),
        'p1': 'cast(' ~ x1 ~ ' as double) / nullif(' ~ n1 ~ ', 0)',
        'p2': 'cast(' ~ x2 ~ ' as double) / nullif(' ~ n2 ~ ', 0)',
    }) -%}
    {%- set sum = '(exp(k_r) * (k_g.n1 + k_g.x2) + k_g.x1 + k_g.n2)' -%}
    {%- set likeliest -%}
        2.0 * (k_g.x1 + k_g.x2) / ({{ sum }} + sqrt(greatest(0.0, {{ sum }} * {{ sum }}
        - 4.0 * exp(k_r) * (k_g.n1 + k_g.n2) * (k_g.x1 + k_g.x2))))
    {%- endset -%}
    {%- set is_below -%}
        k_g.p1 - exp(k_r) * k_g.p2 > k_g.z * sqrt(
            greatest(0.0, exp(k_r) * k_p * (1.0 - exp(k_r) * k_p)) / k_g.n1
            + exp(2.0 * k_r) * greatest(0.0, k_p * (1.0 - k_p)) / k_g.n2
        )
    {%- endset -%}
    {%- set body -%}
        case
            when k_g.n1 > 0.0 and k_g.n2 > 0.0 and k_g.x1 > 0.0
                then {{ turning_point('k_r', '-30.0', '30.0',
                    let_in('k_p', likeliest, is_below)) }}
        end
    {%- endset -%}
    {{ let_in('k_g', given, body) }}
{%- endmacro %}


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
