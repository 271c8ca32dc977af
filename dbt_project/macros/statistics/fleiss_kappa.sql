{# Agreement of many observers beyond chance, on the same units, within each group, as a query.

   relation     name of a CTE or table, one row a rating; keys: list of its columns
   unit, code   its columns: what was rated, which code it got; rows with a null code are left out
   categories   how many codes there are to choose from; default: those that occur in the group
   Columns out: the keys, `unit_count`, `rating_count`, `agreement` (mean share of pairs of ratings
   of one unit that are alike), `fleiss_kappa`, `gwet_ac1`, `brennan_prediger`, and
   `fleiss_null_se` (of the test that kappa is 0; only where all units have as many ratings).
   A unit rated once counts in the shares of the codes and not in the agreement (Gwet 2014), so that
   with as many ratings everywhere this is Fleiss (1971); null standard error: Fleiss, Nee & Landis
   (1979), from memory. Null when one code is all there is.
#}
{% macro fleiss_kappa(relation, keys, unit, code, categories=none) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        fleiss_units as unit_count,
        fleiss_ratings as rating_count,
        fleiss_seen as agreement,
        {{ beyond_chance('fleiss_seen', 'fleiss_square') }} as fleiss_kappa,
        {{ beyond_chance('fleiss_seen', '(1.0 - fleiss_square) / nullif(fleiss_q - 1.0, 0.0)') }}
            as gwet_ac1,
        {{ beyond_chance('fleiss_seen', '1.0 / fleiss_q') }} as brennan_prediger,
        case
            when fleiss_most = fleiss_least then
                sqrt(
                    2.0 * greatest(
                        0.0,
                        power(1.0 - fleiss_square, 2)
                        - (1.0 - 3.0 * fleiss_square + 2.0 * fleiss_cube)
                    )
                    / nullif(fleiss_units * fleiss_most * (fleiss_most - 1.0), 0.0)
                )
                / nullif(1.0 - fleiss_square, 0.0)
        end as fleiss_null_se
    from (
        {{ fleiss_sums(relation, by, unit, code, categories) }}
    ) as fleiss_summed
{%- endmacro %}


{# Per unit, then per code, then one row a group. #}
{% macro fleiss_sums(relation, by, unit, code, categories) -%}
    with fleiss_cells as (
        select
            {{ by }},
            {{ unit }} as fleiss_unit,
            {{ code }} as fleiss_code,
            cast(count(*) as double) as fleiss_count,
            cast(sum(count(*)) over (partition by {{ by }}, {{ unit }}) as double) as fleiss_size
        from {{ relation }}
        where {{ code }} is not null
        group by {{ by }}, {{ unit }}, {{ code }}
    ),

    fleiss_of_units as (
        select
            {{ by }},
            fleiss_unit,
            max(fleiss_size) as fleiss_size,
            sum(fleiss_count * (fleiss_count - 1.0))
            / nullif(max(fleiss_size) * (max(fleiss_size) - 1.0), 0.0) as fleiss_alike
        from fleiss_cells
        group by {{ by }}, fleiss_unit
    ),

    fleiss_of_groups as (
        select
            {{ by }},
            cast(count(*) as double) as fleiss_units,
            sum(fleiss_size) as fleiss_ratings,
            max(fleiss_size) as fleiss_most,
            min(fleiss_size) as fleiss_least,
            avg(fleiss_alike) as fleiss_seen
        from fleiss_of_units
        group by {{ by }}
    ),

    fleiss_codes as (
        select
            {{ by }},
            sum(fleiss_count / fleiss_size) / max(fleiss_units) as fleiss_share
        from fleiss_cells
        inner join fleiss_of_groups using ({{ by }})
        group by {{ by }}, fleiss_code
    ),

    fleiss_chance as (
        select
            {{ by }},
            cast({{ categories or 'count(*)' }} as double) as fleiss_q,
            sum(power(fleiss_share, 2)) as fleiss_square,
            sum(power(fleiss_share, 3)) as fleiss_cube
        from fleiss_codes
        group by {{ by }}
    )

    select *
    from fleiss_of_groups
    inner join fleiss_chance using ({{ by }})
{%- endmacro %}
