{# The statistic of `draw_statistics` when names are drawn in rounds, simulated, as a query.

   chances       as for `draw_statistics`: a box is one round, its sittings (1, 2, ... at most
                 `most_sittings`) the days it took; who could be drawn at each, and how many turns,
                 stay as they were
   simulations   name of a CTE or table: audit_id, simulation (whole, 1 or more)
   seed          SQL expression; same seed, same numbers on every engine
   Columns out: audit_id, simulation, statistic.
   At each sitting every card gets a new random priority; turns go to those there with the fewest
   turns in this box so far, the smallest priority first, and to nobody twice before everyone there
   has had one. So each name is drawn with the same chance among those there and still in the box. A
   box that can end in one way only (everyone there all the time, turns a multiple of the pupils) is
   not drawn but added.
#}
{% macro simulated_rounds(chances, simulations, seed, most_sittings=10) -%}
    with {{ round_boxes(chances) }},

    runs as (
        {{ simulation_keys(simulations, seed) }}
    ),

    open_cards as (
        select
            cards.audit_id,
            boxes.box_number,
            cards.pupil_number,
            cards.presence,
            {{ draw_key([seed, 'cards.audit_id', 'cards.box_id', 'cards.pupil_id']) }} as card_key
        from cards
        inner join boxes on cards.audit_id = boxes.audit_id and cards.box_id = boxes.box_id
        where not boxes.is_certain
    ),

    sitting_0 as (
        select
            open_cards.box_number,
            runs.simulation,
            open_cards.pupil_number,
            open_cards.presence,
            {{ mixed_draw('open_cards.card_key', 'runs.simulation_key') }} as priority,
            cast(0 as bigint) as turn_count,
            cast(1 as bigint) as last_sitting
        from open_cards
        inner join runs on open_cards.audit_id = runs.audit_id
    ),
    {% for sitting in range(1, most_sittings + 1) %}
    sitting_{{ sitting }} as (
        {{ next_sitting('sitting_' ~ (sitting - 1), sitting) }}
    ),
    {% endfor %}
    certain as (
        select
            runs.simulation,
            cards.pupil_number,
            cast(boxes.turn_count / boxes.pupil_count as bigint) as turn_count
        from boxes
        inner join cards on boxes.audit_id = cards.audit_id and boxes.box_id = cards.box_id
        inner join runs on boxes.audit_id = runs.audit_id
        where boxes.is_certain
    ),

    ended as (
        {%- for sitting in range(1, most_sittings + 1) %}
        select simulation, pupil_number, turn_count
        from sitting_{{ sitting }}
        where last_sitting = {{ sitting }}
        union all
        {%- endfor %}
        select simulation, pupil_number, turn_count
        from certain
    ),

    counted as (
        select
            pupil_number,
            simulation,
            sum(turn_count) as turn_count
        from ended
        group by pupil_number, simulation
    )

    {{ simulated_statistic('counted', 'pupils') }}
{%- endmacro %}
