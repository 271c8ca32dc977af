{# What `min_by` and `max_by` order by when one column can tie: by the first, then the next.

   columns   list of expressions; none of them null
#}
{% macro in_turn(columns) %}
    {{- return(adapter.dispatch('in_turn', 'roundelay')(columns)) -}}
{% endmacro %}

{% macro default__in_turn(columns) %}row({{ columns | join(', ') }}){% endmacro %}

{% macro spark__in_turn(columns) %}struct({{ columns | join(', ') }}){% endmacro %}
