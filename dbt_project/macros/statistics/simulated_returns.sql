{# The statistic of `draw_statistics` when every card goes back at once, simulated, as a query.

   chances       as for `draw_statistics`; who could be drawn, and how many turns, stay as they were
   simulations   name of a CTE or table: audit_id, simulation (whole, 1 or more)
   seed          SQL expression; same seed, same numbers on every engine
   Columns out: audit_id, simulation, statistic. Every turn falls on each pupil who could be drawn
   at its sitting with the same chance, whatever came before.
#}
{% macro simulated_returns(chances, simulations, seed) -%}
    with pupils as (
        select
            *,
            row_number() over (order by audit_id, pupil_id) as pupil_number
        from (
            {{ draw_expectations(chances) }}
        ) as expectations
    ),

    places as (
        select
            {{ chances }}.audit_id,
            {{ chances }}.box_id,
            {{ chances }}.sitting,
            pupils.pupil_number,
            row_number() over (
                partition by {{ chances }}.audit_id, {{ chances }}.box_id, {{ chances }}.sitting
                order by {{ chances }}.pupil_id
            ) as place,
            dense_rank() over (
                order by {{ chances }}.audit_id, {{ chances }}.box_id, {{ chances }}.sitting
            ) as sitting_number,
            {{ chances }}.turn_count
        from {{ chances }}
        inner join pupils
            on
                {{ chances }}.audit_id = pupils.audit_id
                and {{ chances }}.pupil_id = pupils.pupil_id
    ),

    sittings as (
        select
            audit_id,
            box_id,
            sitting,
            sitting_number,
            count(*) as pupil_count,
            cast(sum(turn_count) as bigint) as turn_count
        from places
        group by audit_id, box_id, sitting, sitting_number
    ),

    numbered as (
        select
            sittings.*,
            {{ each_number('turn_count') }} as turn_number
        from sittings
    ),

    turns as (
        select
            audit_id,
            sitting_number,
            pupil_count,
            {{ draw_key([seed, 'audit_id', 'box_id', 'sitting', 'turn_number']) }} as turn_key
        from numbered
    ),

    runs as (
        {{ simulation_keys(simulations, seed) }}
    ),

    drawn as (
        select
            runs.simulation,
            turns.sitting_number,
            cast(
                floor(
                    {{ mixed_draw('turns.turn_key', 'runs.simulation_key') }}
                    * cast(turns.pupil_count as double) / {{ mixing_prime() }}
                ) as bigint
            ) + 1 as place
        from turns
        inner join runs on turns.audit_id = runs.audit_id
    ),

    counted as (
        select
            places.pupil_number,
            drawn.simulation,
            count(*) as turn_count
        from drawn
        inner join places
            on
                drawn.sitting_number = places.sitting_number
                and drawn.place = places.place
        group by places.pupil_number, drawn.simulation
    )

    {{ simulated_statistic('counted', 'pupils') }}
{%- endmacro %}


{# The number of each simulation of each audit that `mixed_draw` mixes with a card's. #}
{% macro simulation_keys(simulations, seed) -%}
    select
        audit_id,
        simulation,
        {{ draw_key([seed, 'audit_id', "'simulation'", 'simulation']) }} as simulation_key
    from {{ simulations }}
{%- endmacro %}
