{# Ratio of two independent shares, first over second, by inverting a score test: Koopman (1984).

   x1, n1, x2, n2   successes and trials; null when nothing was looked at on one side
   level            two-sided level as a number
   The upper limit is null (no limit) when the second share is zero. From memory; checked against
   statsmodels and by the score at the limits.
#}
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
