{# `body` with `name` standing for `value`, worked out once: SQL has no `let`, a lambda does.

   Without it every step of an iteration would repeat the whole step before it.
#}
{% macro let_in(name, value, body) %}
    {{- return(adapter.dispatch('let_in', 'roundelay')(name, value, body)) -}}
{% endmacro %}

{% macro default__let_in(name, value, body) -%}
    list_transform([{{ value }}], lambda {{ name }}: {{ body }})[1]
{%- endmacro %}

{% macro spark__let_in(name, value, body) -%}
    transform(array({{ value }}), {{ name }} -> {{ body }})[0]
{%- endmacro %}
