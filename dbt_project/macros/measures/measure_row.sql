{# The figures of a measure row at the edge of the core marts: whole counts, nine places. #}
{% macro measure_row() -%}
    cast(session_count as bigint) as session_count,
    cast(coalesce(day_count, 0) as bigint) as day_count,
    cast(class_count as bigint) as class_count,
    cast(coalesce(thin_count, 0) as bigint) as thin_count,
    cast(round(unit_count) as bigint) as unit_count,
    {%- for figure in ['numerator_count', 'denominator_count', 'value', 'low', 'high',
        'low_one_sided', 'high_one_sided'] %}
    {{ nine_places('cast(' ~ figure ~ ' as double)') }} as {{ figure }},
    {%- endfor %}
    {{ as_of_on() }} as as_of_on,
    '{{ var("build_id") }}' as build_id
{%- endmacro %}
