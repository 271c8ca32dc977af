{# `body` worked out once for each step from `steps` down to 1, `name` standing for the result
   before and `step` for the number of the step; `steps` is an expression, so rows may differ.

   The inside of a continued fraction or of a nested sum, worked out from its far end.
   `start` is a double. The time grows with the steps, the text of the query does not.
#}
{% macro fold(name, step, steps, start, body) %}
    {{- return(adapter.dispatch('fold', 'roundelay')(name, step, steps, start, body)) -}}
{% endmacro %}

{% macro default__fold(name, step, steps, start, body) -%}
    list_reduce(
        range(cast({{ steps }} as bigint), 0, -1),
        lambda {{ name }}, {{ step }}: {{ body }},
        cast({{ start }} as double)
    )
{%- endmacro %}

{% macro spark__fold(name, step, steps, start, body) -%}
    aggregate(
        sequence(cast({{ steps }} as bigint), 1, -1),
        cast({{ start }} as double),
        ({{ name }}, {{ step }}) -> {{ body }}
    )
{%- endmacro %}


{# Several named doubles as one value, so that one `let_in` can name them all: `r.a`, `r.b`. #}
{% macro record(fields) %}
    {{- return(adapter.dispatch('record', 'roundelay')(fields)) -}}
{% endmacro %}

{% macro default__record(fields) -%}
    struct_pack(
        {%- for name, value in fields.items() -%}
            {{ name }} := cast({{ value }} as double){{ ', ' if not loop.last }}
        {%- endfor -%}
    )
{%- endmacro %}

{% macro spark__record(fields) -%}
    named_struct(
        {%- for name, value in fields.items() -%}
            '{{ name }}', cast({{ value }} as double){{ ', ' if not loop.last }}
        {%- endfor -%}
    )
{%- endmacro %}


{# The sum of `body` over a few values, `name` standing for each of them. #}
{% macro sum_over(name, values, body) %}
    {{- return(adapter.dispatch('sum_over', 'roundelay')(name, values, body)) -}}
{% endmacro %}

{% macro default__sum_over(name, values, body) -%}
    list_sum(list_transform([{{ values | join(', ') }}], lambda {{ name }}: {{ body }}))
{%- endmacro %}

{% macro spark__sum_over(name, values, body) -%}
    aggregate(array({{ values | join(', ') }}), 0.0D, (so_far, {{ name }}) -> so_far + ({{ body }}))
{%- endmacro %}
