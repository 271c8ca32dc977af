{# The calendar day of a UTC instant in the school's time zone. #}
{% macro local_date(instant) %}
    {{- return(adapter.dispatch('local_date', 'roundelay')(instant)) -}}
{% endmacro %}

{% macro default__local_date(instant) -%}
    cast(timezone('{{ var("time_zone") }}', timezone('UTC', {{ instant }})) as date)
{%- endmacro %}

{% macro spark__local_date(instant) -%}
    to_date(from_utc_timestamp({{ instant }}, '{{ var("time_zone") }}'))
{%- endmacro %}
