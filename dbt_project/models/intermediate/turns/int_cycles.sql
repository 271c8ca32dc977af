with draws as (
    select * from {{ ref('int_draws') }}
    where cycle_key is not null and school_year_ends is not null
),

turn_days as (
    select * from {{ ref('int_turn_days') }}
    where is_eligible
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
    where is_draw_eligible
),

spans as (
    select
        school_id,
        class_id,
        school_year_ends,
        cycle_key,
        cycle_number,
        min(drawn_on) as first_on,
        max(drawn_on) as last_on
    from draws
    group by school_id, class_id, school_year_ends, cycle_key, cycle_number
),

cycles as (
    select
        *,
        max(first_on) over (
            partition by class_id, school_year_ends
            order by first_on, cycle_number
            rows between 1 following and unbounded following
        ) is not null as is_closed
    from spans
),

-- A card drawn while the child was away has been drawn; it gives no turn.
turns as (
    select
        class_id,
        school_year_ends,
        cycle_key,
        pupil_id,
        count(*) filter (where is_offered) as turn_count,
        count(*) filter (
            where is_offered or outcome in ('absent', 'unavailable')
        ) as drawn_count
    from draws
    where pupil_id is not null
    group by class_id, school_year_ends, cycle_key, pupil_id
),

-- Whose card should have come up: there on a draw day of the cycle, and still in at its end.
expected as (
    select distinct
        cycles.*,
        turn_days.pupil_id
    from cycles
    inner join turn_days
        on
            cycles.class_id = turn_days.class_id
            and turn_days.drawn_on between cycles.first_on and cycles.last_on
    inner join class_pupils
        on
            turn_days.class_id = class_pupils.class_id
            and turn_days.pupil_id = class_pupils.pupil_id
            and cycles.last_on >= class_pupils.begin_on
            and cycles.last_on < class_pupils.end_on
),

pupil_cycles as (
    select
        expected.*,
        coalesce(turns.turn_count, 0) as turn_count,
        coalesce(turns.drawn_count, 0) as drawn_count
    from expected
    left join turns
        on
            expected.class_id = turns.class_id
            and expected.school_year_ends = turns.school_year_ends
            and expected.cycle_key = turns.cycle_key
            and expected.pupil_id = turns.pupil_id
)

select * from pupil_cycles
