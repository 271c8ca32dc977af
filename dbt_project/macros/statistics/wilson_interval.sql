{# Wilson (1927) score interval of a share; null when nothing was looked at.

   successes, trials   counts; they may be fractional (an effective number of looks)
   level               two-sided level as a number, for example 0.95
   Limits stay in [0, 1] and are exactly 0 or 1 when no or every look is a success.
#}
{% macro wilson_low(successes, trials, level) -%}
    case
        when {{ trials }} > 0.0 and {{ successes }} <= 0.0 then 0.0
        when {{ trials }} > 0.0 then {{ wilson_limit(successes, trials, level, '-') }}
    end
{%- endmacro %}


{% macro wilson_high(successes, trials, level) -%}
    case
        when {{ trials }} > 0.0 and {{ successes }} >= {{ trials }} then 1.0
        when {{ trials }} > 0.0 then {{ wilson_limit(successes, trials, level, '+') }}
    end
{%- endmacro %}


{% macro wilson_limit(successes, trials, level, sign) -%}
    {{ let_in('w_z', two_sided_z(level), wilson_bound(successes, trials, 'w_z', sign)) }}
{%- endmacro %}


{# The formula alone, z being the name of the normal quantile; null without trials. #}
{% macro wilson_bound(successes, trials, z, sign) -%}
    {%- set x = 'cast(' ~ successes ~ ' as double)' -%}
    {%- set n = 'nullif(cast(' ~ trials ~ ' as double), 0.0)' -%}
    (({{ x }} + {{ z }} * {{ z }} / 2.0 {{ sign }} {{ z }} * sqrt(
        greatest(0.0, {{ x }} - {{ x }} * {{ x }} / {{ n }}) + {{ z }} * {{ z }} / 4.0
    )) / ({{ n }} + {{ z }} * {{ z }}))
{%- endmacro %}


{# How many independent looks a clustered number of looks is worth: n / (1 + (m - 1) rho).

   40 looks in one visit at rho .074 are about 10 independent ones. Null without a cluster.
#}
{% macro effective_count(trials, clusters, rho) -%}
    case
        when {{ clusters }} > 0 then
            {{ trials }}
            / (1.0 + greatest(0.0, cast({{ trials }} as double) / {{ clusters }} - 1.0) * {{ rho }})
    end
{%- endmacro %}
