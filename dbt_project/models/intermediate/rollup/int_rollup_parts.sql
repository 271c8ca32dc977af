with
{%- for model in measure_models('int_measure_') %}
{{ measure_name_of(model) }} as (
    select * from {{ ref(model) }}
),
{% endfor %}
parts as (
    {%- for model in measure_models('int_measure_') %}
    select
        '{{ measure_name_of(model) }}' as measure_name,
        {{ part_columns() | indent(4) }}
    from {{ measure_name_of(model) }}
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
)

select * from parts
