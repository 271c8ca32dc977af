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
    `least`, a fifth more or less (the p-percent rule with p = 20; from memory). The other three
    cells move within what a reader of the reasons knows: under least where small, else least or
    more. Of the rectangles, the one that withholds the fewest margins, then one wide enough, then
    the fewest cells, then the smallest counts.

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
    with placed_cells as (
        {{ placed_cells(relation, keys, row, column, count, reason, gone, least) }}
    ),

    {{ cell_rectangles(keys, least, keeps_margins) }},

    decided as (
        select
            {{ keys_of('placed_cells', keys) }},
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
            on {{ same_keys('placed_cells', 'tables_judged', keys) }}
        left join along
            on
                {{ same_keys('placed_cells', 'along', keys) }}
                and placed_cells.cell_row = along.cell_row
                and placed_cells.cell_column = along.cell_column
    )

    select * from decided
{%- endmacro %}
