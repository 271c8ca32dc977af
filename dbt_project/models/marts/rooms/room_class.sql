with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

schools as (
    select * from {{ ref('dim_schools') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

weeks as (
    select * from {{ ref('dim_weeks') }}
),

cycles as (
    select * from {{ ref('fct_turn_cycles') }}
    where not is_closed
),

turns as (
    select * from {{ ref('fct_turns') }}
),

slots as (
    select * from {{ ref('fct_plan_slots') }}
    where status = 'not_logged'
),

week_counts as (
    select
        school_id,
        term_id,
        count(*) as week_count,
        max(week_number) filter (where is_elapsed) as week_number
    from weeks
    group by school_id, term_id
),

running_cycles as (
    select
        class_id,
        max(cycle_number) as cycle_number,
        min(first_on) as cycle_began_on
    from cycles
    group by class_id
),

turn_counts as (
    select
        turns.class_id,
        count(*) filter (where turns.is_draw_eligible) as cycle_pupil_count,
        count(*) filter (where turns.is_draw_eligible and not turns.is_waiting)
            as cycle_had_turn_count,
        max(turns.open_wait_days) filter (where turns.is_draw_eligible)
            as longest_open_wait_days
    from turns
    inner join terms
        on
            turns.school_id = terms.school_id
            and turns.term_id = terms.term_id
    where turns.is_member
    group by turns.class_id
),

unlogged as (
    select
        class_id,
        term_id,
        count(*) as unlogged_count
    from slots
    group by class_id, term_id
),

shown as (
    select
        classes.class_id,
        classes.school_id,
        schools.school_name,
        classes.title,
        classes.grade_codes,
        classes.session_pattern,
        cast(classes.pupil_count as bigint) as pupil_count,
        terms.term_id,
        terms.title as term_title,
        cast(week_counts.week_number as bigint) as week_number,
        cast(week_counts.week_count as bigint) as week_count,
        cast(running_cycles.cycle_number as bigint) as cycle_number,
        running_cycles.cycle_began_on,
        case when running_cycles.class_id is not null then turn_counts.cycle_pupil_count end
            as cycle_pupil_count,
        case when running_cycles.class_id is not null then turn_counts.cycle_had_turn_count end
            as cycle_had_turn_count,
        cast(turn_counts.longest_open_wait_days as bigint) as longest_open_wait_days,
        coalesce(unlogged.unlogged_count, 0) as unlogged_count,
        cast({{ threshold('criterion') }} as double) as criterion,
        {{ lineage_columns() }},
        {{ built_at() }} as built_at
    from classes
    inner join schools on classes.school_id = schools.school_id
    inner join terms on classes.school_id = terms.school_id
    inner join week_counts
        on
            terms.school_id = week_counts.school_id
            and terms.term_id = week_counts.term_id
    left join running_cycles on classes.class_id = running_cycles.class_id
    left join turn_counts on classes.class_id = turn_counts.class_id
    left join unlogged
        on
            classes.class_id = unlogged.class_id
            and terms.term_id = unlogged.term_id
)

select * from shown
