{# One row for each day from `first_on` to `last_on`, both included, as a select expression. #}
{% macro each_day(first_on, last_on) %}
    {{- return(adapter.dispatch('each_day', 'roundelay')(first_on, last_on)) -}}
{% endmacro %}

{% macro default__each_day(first_on, last_on) -%}
    cast(unnest(generate_series({{ first_on }}, {{ last_on }}, interval 1 day)) as date)
{%- endmacro %}

{% macro spark__each_day(first_on, last_on) -%}
    explode(sequence({{ first_on }}, {{ last_on }}))
{%- endmacro %}


{# One row for each whole number from 1 to `last`, as a select expression; none when it is 0. #}
{% macro each_number(last) %}
    {{- return(adapter.dispatch('each_number', 'roundelay')(last)) -}}
{% endmacro %}

{% macro default__each_number(last) %}unnest(range(1, {{ last }} + 1)){% endmacro %}

{% macro spark__each_number(last) -%}
    explode(if({{ last }} < 1, array(), sequence(1, {{ last }})))
{%- endmacro %}


{# One row for each part of a text separated by `;`, as a select expression. #}
{% macro each_part(list_text) %}
    {{- return(adapter.dispatch('each_part', 'roundelay')(list_text)) -}}
{% endmacro %}

{% macro default__each_part(list_text) %}unnest(string_split({{ list_text }}, ';')){% endmacro %}

{% macro spark__each_part(list_text) %}explode(split({{ list_text }}, ';')){% endmacro %}
