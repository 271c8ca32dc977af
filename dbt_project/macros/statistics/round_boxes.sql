{# The named queries that `simulated_rounds` begins with.

   chances   as for `draw_statistics`, sittings numbered 1, 2, ... in each box
   pupils    T and E of each pupil, with a number
   cards     pupil in box; `presence` adds up 2^(sitting - 1) of the sittings there
   boxes     with a number, and whether a box can end in one way only (`is_certain`): everyone there
             all the time, turns a multiple of the pupils
   shares    of each sitting: turns everyone there has, `full_count`, and turns over, `rest_count`
#}
{% macro round_boxes(chances) -%}
    pupils as (
        select
            *,
            row_number() over (order by audit_id, pupil_id) as pupil_number
        from (
            {{ draw_expectations(chances) }}
        ) as expectations
    ),

    cards as (
        select
            {{ chances }}.audit_id,
            {{ chances }}.box_id,
            {{ chances }}.pupil_id,
            pupils.pupil_number,
            cast(sum(power(2, {{ chances }}.sitting - 1)) as bigint) as presence
        from {{ chances }}
        inner join pupils
            on
                {{ chances }}.audit_id = pupils.audit_id
                and {{ chances }}.pupil_id = pupils.pupil_id
        group by
            {{ chances }}.audit_id,
            {{ chances }}.box_id,
            {{ chances }}.pupil_id,
            pupils.pupil_number
    ),

    sittings as (
        select
            audit_id,
            box_id,
            sitting,
            cast(sum(turn_count) as bigint) as turn_count,
            count(*) as pupil_count
        from {{ chances }}
        group by audit_id, box_id, sitting
    ),

    box_pupils as (
        select
            audit_id,
            box_id,
            count(*) as pupil_count
        from cards
        group by audit_id, box_id
    ),

    boxes as (
        select
            box_pupils.audit_id,
            box_pupils.box_id,
            row_number() over (order by box_pupils.audit_id, box_pupils.box_id) as box_number,
            max(sittings.sitting) as last_sitting,
            cast(sum(sittings.turn_count) as bigint) as turn_count,
            box_pupils.pupil_count,
            min(sittings.pupil_count) = box_pupils.pupil_count
            and sum(sittings.turn_count) % box_pupils.pupil_count = 0 as is_certain
        from box_pupils
        inner join sittings
            on
                box_pupils.audit_id = sittings.audit_id
                and box_pupils.box_id = sittings.box_id
        group by box_pupils.audit_id, box_pupils.box_id, box_pupils.pupil_count
    ),

    shares as (
        select
            boxes.box_number,
            boxes.last_sitting,
            sittings.sitting,
            cast(floor(sittings.turn_count / cast(sittings.pupil_count as double)) as bigint)
                as full_count,
            sittings.turn_count % sittings.pupil_count as rest_count
        from boxes
        inner join sittings
            on boxes.audit_id = sittings.audit_id and boxes.box_id = sittings.box_id
    )
{%- endmacro %}
