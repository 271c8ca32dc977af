with draws as (
    select * from {{ ref('fct_draws') }}
    where is_by_lot
),

turns as (
    select * from {{ ref('fct_turns') }}
),

leavers as (
    select
        class_id,
        term_id,
        'leaver_still_drawn' as check_name,
        'draws' as counted_thing,
        count(*) filter (where not is_member) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        min(drawn_on) filter (where not is_member) as first_found_on,
        max(drawn_on) filter (where not is_member) as last_found_on
    from draws
    where pupil_id is not null
    group by class_id, term_id
),

-- Reshuffled full cycles let a child wait 2N - 1 draws at the most; at the class's slow pace (one
-- draw day in ten is slower) that is so many draw days.
day_counts as (
    select
        class_id,
        term_id,
        drawn_on,
        count(*) as draw_count,
        avg(eligible_pupil_count) as eligible_count
    from draws
    where is_offered
    group by class_id, term_id, drawn_on
),

paces as (
    select
        class_id,
        term_id,
        percentile_cont(0.1) within group (order by draw_count) as draws_a_day,
        avg(eligible_count) as eligible_mean
    from day_counts
    group by class_id, term_id
),

limits as (
    select
        class_id,
        term_id,
        cast(ceil((2 * eligible_mean - 1) / draws_a_day) as bigint) as limit_days
    from paces
),

waits as (
    select
        limits.class_id,
        limits.term_id,
        'long_wait' as check_name,
        'children' as counted_thing,
        count(*) filter (where turns.longest_wait_days > limits.limit_days) as finding_count,
        count(*) as checked_count,
        max(limits.limit_days) as limit_days,
        cast(null as date) as first_found_on,
        cast(null as date) as last_found_on
    from limits
    inner join turns
        on
            limits.class_id = turns.class_id
            and limits.term_id = turns.term_id
            and turns.is_draw_eligible
            and turns.is_member
    group by limits.class_id, limits.term_id
),

together as (
    select * from leavers
    union all
    select * from waits
)

select * from together
