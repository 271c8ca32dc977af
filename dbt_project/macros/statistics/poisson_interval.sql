{# Exact (Garwood 1936) interval of a Poisson mean from one count.

   count   events seen, a whole number 0 or more; null gives null
   level   two-sided level as a number, for example 0.95
   The limits are quantiles of the gamma distribution with a whole shape: see `gamma_quantile`.
#}
{% macro poisson_low(count, level) -%}
    case
        when {{ count }} = 0 then 0.0
        else {{ gamma_quantile('(1.0 - ' ~ level ~ ') / 2.0', count) }}
    end
{%- endmacro %}


{% macro poisson_high(count, level) -%}
    {{ gamma_quantile('1.0 - (1.0 - ' ~ level ~ ') / 2.0', '(' ~ count ~ ' + 1)') }}
{%- endmacro %}


{# One-sided limits at a level. #}
{% macro poisson_low_one_sided(count, level) -%}
    {{ poisson_low(count, '(2.0 * ' ~ level ~ ' - 1.0)') }}
{%- endmacro %}


{% macro poisson_high_one_sided(count, level) -%}
    {{ poisson_high(count, '(2.0 * ' ~ level ~ ' - 1.0)') }}
{%- endmacro %}
