with
{%- for model in measure_models('int_finished_') %}
{{ measure_name_of(model) }} as (
    select * from {{ ref(model) }}
),
{% endfor %}
finished as (
    {%- for model in measure_models('int_finished_') %}
    select
        '{{ measure_name_of(model) }}' as measure_name,
        {{ finished_columns_of(model) | indent(4) }}
    from {{ measure_name_of(model) }}
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
)

select * from finished
