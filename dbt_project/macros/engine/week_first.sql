{# The Monday of the week of a date; the same on every engine. #}
{% macro week_first(day_on) %}cast(date_trunc('week', {{ day_on }}) as date){% endmacro %}


{# Monday 1 ... Sunday 7. #}
{% macro weekday_number(day_on) %}
    {{- return(adapter.dispatch('weekday_number', 'roundelay')(day_on)) -}}
{% endmacro %}

{% macro default__weekday_number(day_on) %}isodow({{ day_on }}){% endmacro %}

{% macro spark__weekday_number(day_on) %}(weekday({{ day_on }}) + 1){% endmacro %}
