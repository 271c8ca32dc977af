{# Exact intervals of a share: Clopper & Pearson (1934), and the same by mid-p.

   successes, trials   whole counts; null when nothing was looked at
   level               two-sided level as a number
   Clopper-Pearson limits are quantiles of the beta distribution (see `beta_quantile`) and never
   miss more often than they say. Mid-p counts half of the seen result itself, is shorter, and
   misses as often as it says on the whole (Lancaster 1961; Berry & Armitage 1995; from memory).
#}
{% macro clopper_pearson_low(successes, trials, level) -%}
    case
        when {{ trials }} > 0 and {{ successes }} = 0 then 0.0
        when {{ trials }} > 0 then {{ beta_quantile(
            '(1.0 - ' ~ level ~ ') / 2.0', successes, '(' ~ trials ~ ' - ' ~ successes ~ ' + 1)') }}
    end
{%- endmacro %}


{# The upper limit is one minus the lower limit of the failures. #}
{% macro clopper_pearson_high(successes, trials, level) -%}
    (1.0 - {{ clopper_pearson_low('(' ~ trials ~ ' - ' ~ successes ~ ')', trials, level) }})
{%- endmacro %}


{% macro mid_p_low(successes, trials, level) -%}
    {%- set x = '(' ~ successes ~ ')' -%}
    {%- set rest = '((' ~ trials ~ ') - ' ~ x ~ ')' -%}
    {%- set at_least = beta_cdf('m_p', x, rest ~ ' + 1') -%}
    {%- set above = 'case when ' ~ rest ~ ' > 0 then '
        ~ beta_cdf('m_p', x ~ ' + 1', rest) ~ ' else 0.0 end' -%}
    case
        when {{ trials }} > 0 and {{ x }} = 0 then 0.0
        when {{ trials }} > 0 and {{ x }} > 0 then {{ turning_point('m_p', '0.0', '1.0',
            at_least ~ ' + ' ~ above ~ ' < 1.0 - ' ~ level) }}
    end
{%- endmacro %}


{% macro mid_p_high(successes, trials, level) -%}
    (1.0 - {{ mid_p_low('(' ~ trials ~ ' - ' ~ successes ~ ')', trials, level) }})
{%- endmacro %}
