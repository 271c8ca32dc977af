{# Wilson score interval with continuity correction: Newcombe (1998), method 4; wider than Wilson's.

   successes, trials   whole counts; null when nothing was looked at
   level               two-sided level as a number
   Limits stay in [0, 1] and are exactly 0 or 1 when no or every look is a success.
#}
{% macro wilson_corrected_low(successes, trials, level) -%}
    case
        when {{ trials }} > 0.0 and {{ successes }} <= 0.0 then 0.0
        when {{ trials }} > 0.0 then greatest(
            0.0, {{ wilson_corrected_limit(successes, trials, level) }}
        )
    end
{%- endmacro %}


{# The upper limit is one minus the lower limit of the failures. #}
{% macro wilson_corrected_high(successes, trials, level) -%}
    (1.0 - {{ wilson_corrected_low('(' ~ trials ~ ' - ' ~ successes ~ ')', trials, level) }})
{%- endmacro %}


{% macro wilson_corrected_limit(successes, trials, level) -%}
    {%- set p = '(cast(' ~ successes ~ ' as double) / (' ~ trials ~ '))' -%}
    {%- set n = 'cast(' ~ trials ~ ' as double)' -%}
    {%- set body -%}
        (2.0 * {{ n }} * {{ p }} + w_z * w_z - 1.0 - w_z * sqrt(
            greatest(0.0, w_z * w_z - 2.0 - 1.0 / {{ n }}
            + 4.0 * {{ p }} * ({{ n }} * (1.0 - {{ p }}) + 1.0))
        )) / (2.0 * ({{ n }} + w_z * w_z))
    {%- endset -%}
    {{ let_in('w_z', two_sided_z(level), body) }}
{%- endmacro %}
