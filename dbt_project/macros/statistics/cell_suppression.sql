{#
    Which cells of tables with margins are withheld, as a query: each cell that must not be shown,
    and the cells that go along so that no margin gives it back (complementary suppression).

    relation        CTE or table, one row per published cell
    keys            columns that tell one table from another
    row, column     columns that place a cell in its table; `*` is a margin (the total over rows, or
                    over columns). Every row and every column is taken to add up to its margin,
                    whether or not the margin is among the cells.
    count           column: what is counted in the cell, 0 or more
    reason          column: why the cell must be protected, or null
    gone            column: true where the cell is withheld anyway and needs no protection here
    least           people: fewer than this is small, and that a small cell is small is no secret.
                    none for other counts: nothing is known but that they are not negative.
    keeps_margins   true: no margin goes along

    Columns out: the keys, the row, the column, `suppressed_reason`: the given reason,
    `complementary`, or null where the cell is shown (or gone for the caller's reason alone).

    Rule (the hypercube method of Repsilber 1994 and Giessing; from memory): for each protected cell
    another row and another column are chosen, and all four cells of that rectangle are withheld.
    All sums stay as they are when one diagonal gains what the other loses; so a rectangle whose
    cells can move far enough hides its corner, whatever else is published. Far enough: a small cell
    may be anything from 0 to least - 1, a large one at least least - 1 more or less; without
    `least`, a fifth more or less (the p-percent rule with p = 20; from memory). The other three cells move within what a reader of the
    reasons knows: under least where small, else least or more. Of the rectangles, the one that
    withholds the fewest margins, then one wide enough, then the fewest cells, then the smallest
    counts.

    Where none is wide enough, every reason of the table becomes `complementary`, which tells no
    size, and the other cells need only not fall below 0. (Without `least` no reason tells a size:
    they stay, and the cells need only move by one.) Where there is no such rectangle either,
    nothing of the table is shown (with `keeps_margins`: nothing of its inside).
    A line whose margin is small is best withheld as a whole by withheld_reason() and given as gone.

    A table without a reason is shown whole. A cell with a null count hides nothing.
    Worked example (least 5): 12 7 3 / 9 15 11 / 20 18 14 with margins. 3 alone would be
    22 - 12 - 7; with it go 12, 9 and 11 (32 together; 7, 15 and 11 would be 33).
#}
{% macro cell_suppression(
    relation, keys, row, column, count, reason, gone, least=none, keeps_margins=false
) -%}
    {%- set tables = keys | join(', ') -%}
    {%- set small = count ~ ' < ' ~ least if least else 'false' -%}
    with placed_cells as (
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
    ),

    protected as (
        select * from placed_cells
        where cell_reason is not null and cell_count is not null
    ),

    corners as (
        select
            {{ qualified('protected', keys) }},
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
                {{ same_table('protected', 'beside', keys) }}
                and protected.cell_row = beside.cell_row
                and protected.cell_column != beside.cell_column
        inner join placed_cells as below
            on
                {{ same_table('protected', 'below', keys) }}
                and protected.cell_column = below.cell_column
                and protected.cell_row != below.cell_row
        inner join placed_cells as across
            on
                {{ same_table('protected', 'across', keys) }}
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
            {{ qualified('protected', keys) }},
            bool_and(coalesce(chosen.is_wide, false)) as is_wide,
            bool_and(chosen.cell_row is not null) as is_open
        from protected
        left join chosen
            on
                {{ same_table('protected', 'chosen', keys) }}
                and protected.cell_row = chosen.cell_row
                and protected.cell_column = chosen.cell_column
        group by {{ qualified('protected', keys) }}
    ),

    along as (
        select {{ tables }}, cell_row, other_column as cell_column from chosen
        union
        select {{ tables }}, other_row as cell_row, cell_column from chosen
        union
        select {{ tables }}, other_row as cell_row, other_column as cell_column from chosen
    ),

    decided as (
        select
            {{ qualified('placed_cells', keys) }},
            placed_cells.cell_row as {{ row }},
            placed_cells.cell_column as {{ column }},
            case
                when
                    not tables_judged.is_open
                    and {{ 'not placed_cells.is_margin' if keeps_margins else 'true' }}
                    then 'complementary'
                {%- if least %}
                when
                    (along.cell_row is not null or placed_cells.is_gone)
                    and not coalesce(tables_judged.is_wide, true)
                    then 'complementary'
                {%- endif %}
                when placed_cells.cell_reason is not null
                    then placed_cells.cell_reason
                when along.cell_row is not null
                    then 'complementary'
            end as suppressed_reason
        from placed_cells
        left join tables_judged
            on {{ same_table('placed_cells', 'tables_judged', keys) }}
        left join along
            on
                {{ same_table('placed_cells', 'along', keys) }}
                and placed_cells.cell_row = along.cell_row
                and placed_cells.cell_column = along.cell_column
    )

    select * from decided
{%- endmacro %}


{# Whether a corner can move as far as the protected cell must, within what is known of it, and
   within what is known where no reason tells of a size. `sign` is SQL: 1 or -1 by the margins.
#}
{% macro corner_room(corner, sign, way, least) -%}
    {%- set with_it = sign ~ ' = ' ~ way -%}
    {%- set falls = 'case when ' ~ with_it ~ ' then protected.fall else protected.rise end' -%}
    case
        when {{ with_it }}
            then
                {{ corner }}.cell_count - protected.fall >= {{ corner }}.cell_low
                and (
                    {{ corner }}.cell_high is null
                    or {{ corner }}.cell_count + protected.rise <= {{ corner }}.cell_high
                )
        else
            {{ corner }}.cell_count - protected.rise >= {{ corner }}.cell_low
            and (
                {{ corner }}.cell_high is null
                or {{ corner }}.cell_count + protected.fall <= {{ corner }}.cell_high
            )
    end as is_wide_{{ corner }},
    {{ corner }}.cell_count >= {{ falls if least else 'least(1.0, protected.rise)' }}
        as is_open_{{ corner }}
{%- endmacro %}


{# What a rectangle withholds that was shown, added up over its other three cells: `kind` is
   margins, cells, or counts. #}
{% macro corner_cost(kind) -%}
    {%- for corner in ['beside', 'below', 'across'] -%}
    case
        when {{ corner }}.is_gone then 0
        {%- if kind == 'margins' %}
        when not {{ corner }}.is_margin then 0
        {%- endif %}
        else {{ corner ~ '.cell_count' if kind == 'counts' else 1 }}
    end {% if not loop.last %}+ {% endif %}
    {%- endfor -%}
{%- endmacro %}


{# The keys of a table in a join. #}
{% macro same_table(one, other, keys) -%}
    {%- for key in keys %}{{ one }}.{{ key }} = {{ other }}.{{ key }}
        {%- if not loop.last %} and {% endif %}
    {%- endfor %}
{%- endmacro %}


{# Columns of a relation, by its name. #}
{% macro qualified(relation, columns) -%}
    {%- for column in columns %}{{ relation }}.{{ column }}{% if not loop.last %}, {% endif %}
    {%- endfor %}
{%- endmacro %}
