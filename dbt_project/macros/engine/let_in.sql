{# `body` with `name` standing for `value`, worked out once: SQL has no `let`, a lambda does.

   Keep nests shallow: the time DuckDB takes to read a query grows fast with the depth of lambdas.
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


{# `body` worked out `steps` times over, each time with `name` standing for the result before. #}
{% macro iterate(name, start, steps, body) %}
    {{- return(adapter.dispatch('iterate', 'roundelay')(name, start, steps, body)) -}}
{% endmacro %}

{% macro default__iterate(name, start, steps, body) -%}
    list_reduce([{{ start }}{{ ', 0.0' * steps }}], lambda {{ name }}, step_number: {{ body }})
{%- endmacro %}

{% macro spark__iterate(name, start, steps, body) -%}
    aggregate(sequence(1, {{ steps }}), {{ start }}, ({{ name }}, step_number) -> {{ body }})
{%- endmacro %}
