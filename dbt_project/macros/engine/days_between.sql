{# Whole days from one date to another; negative when the second is earlier. #}
{% macro days_between(first_on, last_on) %}
    {{- return(adapter.dispatch('days_between', 'roundelay')(first_on, last_on)) -}}
{% endmacro %}

{% macro default__days_between(first_on, last_on) -%}
    date_diff('day', {{ first_on }}, {{ last_on }})
{%- endmacro %}

{% macro spark__days_between(first_on, last_on) -%}
    datediff({{ last_on }}, {{ first_on }})
{%- endmacro %}
