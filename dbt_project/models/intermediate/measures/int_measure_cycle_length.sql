with pupil_cycles as (
    select * from {{ ref('int_cycles') }}
    where is_closed
),

turn_days as (
    select * from {{ ref('int_turn_days') }}
),

draw_days as (
    select distinct
        class_id,
        drawn_on
    from turn_days
),

cycles as (
    select
        school_id,
        class_id,
        cycle_key,
        first_on,
        last_on,
        sum(turn_count) as turn_count
    from pupil_cycles
    group by school_id, class_id, cycle_key, first_on, last_on
),

-- A closed cycle belongs to the window of its last day.
lengths as (
    select
        cycles.school_id,
        cycles.class_id,
        cycles.cycle_key,
        cycles.last_on,
        cycles.turn_count,
        count(*) as length_days
    from cycles
    inner join draw_days
        on
            cycles.class_id = draw_days.class_id
            and draw_days.drawn_on between cycles.first_on and cycles.last_on
    group by
        cycles.school_id, cycles.class_id, cycles.cycle_key, cycles.last_on, cycles.turn_count
),

parts as (
    select
        {{ share_part(
            'last_on',
            numerator='length_days',
            denominator='1',
            units='turn_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from lengths
)

select * from parts
