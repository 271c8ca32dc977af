with cycles as (
    select * from {{ ref('fct_turn_cycles') }}
    where is_closed
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'student' and is_draw_eligible
),

draws as (
    select * from {{ ref('fct_draws') }}
    where cycle_key is not null
),

-- In the class from the first to the last day of the cycle, so that the card could come up.
could_be_drawn as (
    select
        cycles.class_id,
        cycles.cycle_key,
        cycles.first_on,
        cycles.last_on,
        memberships.person_id as pupil_id,
        memberships.begin_on
    from cycles
    inner join memberships
        on
            cycles.class_id = memberships.class_id
            and cycles.first_on >= memberships.begin_on
            and cycles.last_on < memberships.end_on
),

counted as (
    select
        could_be_drawn.class_id,
        could_be_drawn.cycle_key,
        could_be_drawn.pupil_id,
        could_be_drawn.first_on,
        could_be_drawn.last_on,
        could_be_drawn.begin_on,
        count(draws.draw_id) as draw_count,
        count(draws.draw_id) filter (where draws.is_offered) as offered_count
    from could_be_drawn
    left join draws
        on
            could_be_drawn.class_id = draws.class_id
            and could_be_drawn.pupil_id = draws.pupil_id
            and could_be_drawn.cycle_key = draws.cycle_key
    group by
        could_be_drawn.class_id,
        could_be_drawn.cycle_key,
        could_be_drawn.pupil_id,
        could_be_drawn.first_on,
        could_be_drawn.last_on,
        could_be_drawn.begin_on
)

select * from counted
