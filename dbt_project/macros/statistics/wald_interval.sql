{# Plain intervals of a share: Wald's, and Agresti & Coull's (1998) that adds z^2 / 2 to both sides.

   successes, trials   counts; null when nothing was looked at
   level               two-sided level as a number
   Kept to compare with published tables. No figure uses Wald's interval: at 0 of 20 it is 0 to 0.
#}


{# Standard error of a share of independent looks; of momentary looks, a lower bound of it. #}
{% macro share_error(share, trials) -%}
    sqrt(({{ share }}) * (1.0 - ({{ share }})) / nullif({{ trials }}, 0))
{%- endmacro %}


{# greatest() and least() skip nulls on both engines: without looks there must be none. #}
{% macro wald_low(successes, trials, level) -%}
    case
        when {{ trials }} > 0 then greatest(0.0, {{ wald_limit(successes, trials, level, '-') }})
    end
{%- endmacro %}


{% macro wald_high(successes, trials, level) -%}
    case
        when {{ trials }} > 0 then least(1.0, {{ wald_limit(successes, trials, level, '+') }})
    end
{%- endmacro %}


{% macro wald_limit(successes, trials, level, sign) -%}
    {%- set p = '(cast(' ~ successes ~ ' as double) / nullif(' ~ trials ~ ', 0))' -%}
    {%- set margin = two_sided_z(level) ~ ' * ' ~ share_error(p, trials) -%}
    {{ p }} {{ sign }} {{ margin }}
{%- endmacro %}


{% macro agresti_coull_centre(successes, trials, level) -%}
    {{ let_in('w_z', two_sided_z(level),
        '((' ~ successes ~ ') + w_z * w_z / 2.0) / ((' ~ trials ~ ') + w_z * w_z)') }}
{%- endmacro %}


{% macro agresti_coull_low(successes, trials, level) -%}
    {{ agresti_coull_limit(successes, trials, level, '-') }}
{%- endmacro %}


{% macro agresti_coull_high(successes, trials, level) -%}
    {{ agresti_coull_limit(successes, trials, level, '+') }}
{%- endmacro %}


{# Not cut off at 0 and 1, as in the paper. #}
{% macro agresti_coull_limit(successes, trials, level, sign) -%}
    {%- set body -%}
        w_c.p {{ sign }} w_c.z * {{ share_error('w_c.p', '(' ~ trials ~ ' + w_c.z * w_c.z)') }}
    {%- endset -%}
    {%- set parts = record({
        'p': agresti_coull_centre(successes, trials, level), 'z': two_sided_z(level),
    }) -%}
    case when {{ trials }} > 0 then {{ let_in('w_c', parts, body) }} end
{%- endmacro %}
