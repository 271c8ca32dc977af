with cycle_pupils as (
    select * from {{ ref('fct_cycle_pupils') }}
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

together as (
    select * from undrawn_cycles
    union all
    select * from twice_cycles
)

select * from together
