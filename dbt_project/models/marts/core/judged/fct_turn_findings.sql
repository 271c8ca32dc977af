with cycle_pupils as (
    select * from {{ ref('fct_cycle_pupils') }}
),

draws as (
    select * from {{ ref('fct_draws') }}
    where is_by_lot
),

turns as (
    select * from {{ ref('fct_turns') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
),

class_terms as (
    select
        classes.school_id,
        classes.class_id,
        terms.term_id,
        terms.first_on,
        terms.last_on
    from classes
    inner join terms
        on
            classes.school_id = terms.school_id
            and terms.has_started
),

-- A cycle belongs to the term in which it ended.
cycle_facts as (
    select
        class_terms.class_id,
        class_terms.term_id,
        cycle_pupils.cycle_key,
        cycle_pupils.first_on,
        cycle_pupils.last_on,
        count(*) filter (where cycle_pupils.draw_count = 0) as undrawn_count,
        count(*) filter (where cycle_pupils.offered_count > 1) as twice_count
    from class_terms
    inner join cycle_pupils
        on
            class_terms.class_id = cycle_pupils.class_id
            and cycle_pupils.last_on between class_terms.first_on and class_terms.last_on
    group by
        class_terms.class_id,
        class_terms.term_id,
        cycle_pupils.cycle_key,
        cycle_pupils.first_on,
        cycle_pupils.last_on
),

undrawn_cycles as (
    select
        class_id,
        term_id,
        'never_drawn_in_cycle' as check_name,
        'cycles' as counted_thing,
        count(*) filter (where undrawn_count > 0) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        min(first_on) filter (where undrawn_count > 0) as first_found_on,
        max(last_on) filter (where undrawn_count > 0) as last_found_on
    from cycle_facts
    group by class_id, term_id
),

twice_cycles as (
    select
        class_id,
        term_id,
        'drawn_twice_in_cycle' as check_name,
        'cycles' as counted_thing,
        count(*) filter (where twice_count > 0) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        min(first_on) filter (where twice_count > 0) as first_found_on,
        max(last_on) filter (where twice_count > 0) as last_found_on
    from cycle_facts
    group by class_id, term_id
),

-- Joined after the class had begun to draw, and not once drawn in any cycle closed since.
newcomer_facts as (
    select
        class_terms.class_id,
        class_terms.term_id,
        cycle_pupils.pupil_id,
        min(cycle_pupils.begin_on) as begin_on,
        sum(cycle_pupils.draw_count) as draw_count
    from class_terms
    inner join cycle_pupils
        on
            class_terms.class_id = cycle_pupils.class_id
            and cycle_pupils.last_on between class_terms.first_on and class_terms.last_on
    inner join turns
        on
            class_terms.class_id = turns.class_id
            and class_terms.term_id = turns.term_id
            and cycle_pupils.pupil_id = turns.pupil_id
            and turns.is_member
    where
        cycle_pupils.begin_on > class_terms.first_on
        or cycle_pupils.begin_on > (
            select min(draws.drawn_on)
            from draws
            where draws.class_id = class_terms.class_id
        )
    group by class_terms.class_id, class_terms.term_id, cycle_pupils.pupil_id
),

newcomers as (
    select
        class_id,
        term_id,
        'newcomer_not_added' as check_name,
        'children' as counted_thing,
        count(*) filter (where draw_count = 0) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        min(begin_on) filter (where draw_count = 0) as first_found_on,
        max(begin_on) filter (where draw_count = 0) as last_found_on
    from newcomer_facts
    group by class_id, term_id
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
    select * from undrawn_cycles
    union all
    select * from twice_cycles
    union all
    select * from newcomers
    union all
    select * from leavers
    union all
    select * from waits
)

select * from together
