{# The cells of `cell_suppression` with what is known of each, as a query: its place, its count,
   whether it is withheld already, whether it is a margin; what a reader of the reasons knows of its
   count (`cell_low`, `cell_high`) and how far it must be able to move (`rise`, `fall`).
#}
{% macro placed_cells(relation, keys, row, column, count, reason, gone, least) -%}
    {%- set tables = keys | join(', ') -%}
    {%- set small = count ~ ' < ' ~ least if least else 'false' -%}
    select
        {{ tables }},
        {{ row }} as cell_row,
        {{ column }} as cell_column,
        cast({{ count }} as double) as cell_count,
        {{ reason }} as cell_reason,
        coalesce({{ gone }}, false) or {{ reason }} is not null as is_gone,
        {{ row }} = '*' or {{ column }} = '*' as is_margin,
        case when {{ row }} = '*' then -1 else 1 end as row_sign,
        case when {{ column }} = '*' then -1 else 1 end as column_sign,
        {%- if least %}
        case when {{ small }} then 0.0 else {{ least }} end as cell_low,
        case when {{ small }} then {{ least }} - 1.0 end as cell_high,
        case when {{ small }} then {{ least }} - 1.0 - {{ count }} else {{ least }} - 1.0 end
            as rise,
        case when {{ small }} then {{ count }} else {{ least }} - 1.0 end as fall
        {%- else %}
        0.0 as cell_low,
        cast(null as double) as cell_high,
        {{ count }} / 5.0 as rise,
        {{ count }} / 5.0 as fall
        {%- endif %}
    from {{ relation }}
{%- endmacro %}
