{# Draws of one class and day as one part of a share; numerator and denominator are aggregates. #}
{% macro draw_day_parts(relation, numerator, denominator) -%}
    select
        {{ share_part(
            'drawn_on',
            numerator=numerator,
            denominator=denominator,
            units=denominator,
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) | indent(4) }}
    from {{ relation }}
    group by school_id, class_id, drawn_on
{%- endmacro %}
