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
)

select * from newcomers
