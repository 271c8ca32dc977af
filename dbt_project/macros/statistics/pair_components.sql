{# Variance components where each unit was scored by two of several raters, as a query.

   relation                 name of a CTE or table, one row a unit; keys: list of its columns
   one, other               its columns: the two raters, who change from unit to unit
   one_score, other_score   numeric columns; rows with a null in any of the four, or with one rater
                            twice, are left out
   Columns out: the keys, `pair_count`, `rater_count`, and for `unit`, `rater` and `residual`
   `<name>_raw` (may be below zero) and `<name>_variance` (0 then).
   What two scores of one unit differ by is rater and rest; what the raters' least-squares effects
   leave of it is rest; the spread of the units' means is all three, with as much of the raters as
   their numbers of units say. Exact for two raters, where all is as in ICC(2,1). Null where there
   are too few units for that, and wrong by a little where raters fall into sets that never met.
#}
{% macro pair_components(relation, keys, one, other, one_score, other_score) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        pair_n as pair_count,
        pair_m as rater_count,
        {%- for name in ['unit', 'rater', 'residual'] %}
        pair_{{ name }} as {{ name }}_raw,
        {{ not_below_zero('pair_' ~ name) }} as {{ name }}_variance{{ ',' if not loop.last }}
        {%- endfor %}
    from (
        select
            *,
            pair_within - pair_residual as pair_rater,
            (
                pair_between - pair_residual
                - (pair_within - pair_residual)
                * (pair_n - pair_square / (2.0 * pair_n)) / nullif(pair_n - 1.0, 0.0)
            ) / 2.0 as pair_unit
        from (
            {{ pair_sums(relation, by, keys, one, other, one_score, other_score) }}
        ) as pair_summed
    ) as pair_finished
{%- endmacro %}


{% macro pair_sums(relation, by, keys, one, other, one_score, other_score) -%}
    with pair_rows as (
        select
            {{ by }},
            {{ one }} as pair_one,
            {{ other }} as pair_other,
            cast({{ one_score }} as double) - cast({{ other_score }} as double) as pair_gap,
            (cast({{ one_score }} as double) + cast({{ other_score }} as double)) / 2.0
                as pair_middle
        from {{ relation }}
        where {{ one }} != {{ other }} and {{ one_score }} - {{ other_score }} is not null
    ),

    pair_effects as (
        {{ mutual_effects('pair_rows', keys, 'pair_one', 'pair_other', 'pair_gap') }}
    ),

    -- Every comparison is in the sums of both its raters.
    pair_raters as (
        select
            {{ by }},
            cast(count(*) as double) as pair_m,
            sum(comparison_count * comparison_count) as pair_square,
            sum(square_sum) / 2.0 as pair_left
        from pair_effects
        group by {{ by }}
    ),

    pair_units as (
        select
            {{ by }},
            cast(count(*) as double) as pair_n,
            sum(pair_gap * pair_gap) / (2.0 * count(*)) as pair_within,
            2.0 * var_samp(pair_middle) as pair_between
        from pair_rows
        group by {{ by }}
    )

    select
        *,
        case
            when pair_n > pair_m - 1.0 then pair_left / (2.0 * (pair_n - pair_m + 1.0))
        end as pair_residual
    from pair_units
    inner join pair_raters using ({{ by }})
{%- endmacro %}
