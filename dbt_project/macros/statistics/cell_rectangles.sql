{# The rectangle that hides each protected cell of `placed_cells`, as CTEs of `cell_suppression`:
   `protected`, `corners` (every rectangle), `judged`, `chosen` (one each), `tables_judged`, `along`
   (the other three cells of the chosen ones). Arguments as there.
#}
{% macro cell_rectangles(keys, least, keeps_margins) -%}
    {%- set tables = keys | join(', ') -%}
    protected as (
        select * from placed_cells
        where cell_reason is not null and cell_count is not null
    ),

    corners as (
        select
            {{ keys_of('protected', keys) }},
            protected.cell_row,
            protected.cell_column,
            beside.cell_column as other_column,
            below.cell_row as other_row,
            protected.rise,
            protected.fall,
            {{ corner_room('beside', 'protected.column_sign * beside.column_sign', -1, least) }},
            {{ corner_room('below', 'protected.row_sign * below.row_sign', -1, least) }},
            {{ corner_room(
                'across',
                'protected.row_sign * across.row_sign '
                ~ '* protected.column_sign * across.column_sign',
                1,
                least
            ) }},
            {{ corner_cost('margins') }} as margin_cost,
            {{ corner_cost('cells') }} as cell_cost,
            {{ corner_cost('counts') }} as count_cost
        from protected
        inner join placed_cells as beside
            on
                {{ same_keys('protected', 'beside', keys) }}
                and protected.cell_row = beside.cell_row
                and protected.cell_column != beside.cell_column
        inner join placed_cells as below
            on
                {{ same_keys('protected', 'below', keys) }}
                and protected.cell_column = below.cell_column
                and protected.cell_row != below.cell_row
        inner join placed_cells as across
            on
                {{ same_keys('protected', 'across', keys) }}
                and below.cell_row = across.cell_row
                and beside.cell_column = across.cell_column
    ),

    judged as (
        select
            *,
            is_wide_beside and is_wide_below and is_wide_across as is_wide,
            is_open_beside and is_open_below and is_open_across as is_open
        from corners
    ),

    chosen as (
        select * from judged
        where (is_wide or is_open){% if keeps_margins %} and margin_cost = 0{% endif %}
        qualify row_number() over (
            partition by {{ tables }}, cell_row, cell_column
            order by
                margin_cost,
                case when is_wide then 0 else 1 end,
                cell_cost, count_cost, other_row, other_column
        ) = 1
    ),

    tables_judged as (
        select
            {{ keys_of('protected', keys) }},
            bool_and(coalesce(chosen.is_wide, false)) as is_wide,
            bool_and(chosen.cell_row is not null) as is_open
        from protected
        left join chosen
            on
                {{ same_keys('protected', 'chosen', keys) }}
                and protected.cell_row = chosen.cell_row
                and protected.cell_column = chosen.cell_column
        group by {{ keys_of('protected', keys) }}
    ),

    along as (
        select {{ tables }}, cell_row, other_column as cell_column from chosen
        union
        select {{ tables }}, other_row as cell_row, cell_column from chosen
        union
        select {{ tables }}, other_row as cell_row, other_column as cell_column from chosen
    )
{%- endmacro %}
