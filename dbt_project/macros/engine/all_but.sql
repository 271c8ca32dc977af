{# Every column of what is selected from, but for the named ones. #}
{% macro all_but(columns) %}
    {{- return(adapter.dispatch('all_but', 'roundelay')(columns)) -}}
{% endmacro %}

{% macro default__all_but(columns) %}* exclude ({{ columns | join(', ') }}){% endmacro %}

{% macro spark__all_but(columns) %}* except ({{ columns | join(', ') }}){% endmacro %}
