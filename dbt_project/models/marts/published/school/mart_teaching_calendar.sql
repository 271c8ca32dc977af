with lessons as (
    select * from {{ ref('fct_lessons') }}
    where status in ('delivered', 'partly')
),

slots as (
    select * from {{ ref('fct_plan_slots') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

weeks as (
    select weeks.*
    from {{ ref('dim_weeks') }} as weeks
    inner join {{ ref('dim_terms') }} as terms
        on
            weeks.school_id = terms.school_id
            and weeks.term_id = terms.term_id
    where weeks.is_elapsed and terms.is_current_year
),

events as (
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        lesson_kind,
        1 as lesson_count,
        0.0 as due_count
    from lessons
    union all
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        lesson_kind,
        0 as lesson_count,
        1.0 as due_count
    from slots
),

by_kind as (
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        lesson_kind,
        sum(lesson_count) as lesson_count,
        sum(due_count) as due_count
    from events
    group by school_id, routine_id, term_id, week_first_on, lesson_kind
),

totals as (
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        sum(lesson_count) as lesson_count,
        sum(due_count) as due_count
    from events
    group by school_id, routine_id, term_id, week_first_on
),

every_week as (
    select
        weeks.school_id,
        routines.routine_id,
        weeks.term_id,
        weeks.week_first_on,
        '*' as lesson_kind,
        coalesce(totals.lesson_count, 0) as lesson_count,
        coalesce(totals.due_count, 0.0) as due_count
    from weeks
    cross join routines
    left join totals
        on
            weeks.school_id = totals.school_id
            and routines.routine_id = totals.routine_id
            and weeks.term_id = totals.term_id
            and weeks.week_first_on = totals.week_first_on
),

together as (
    select * from every_week
    union all
    select * from by_kind
),

shown as (
    select
        together.school_id,
        together.routine_id,
        together.term_id,
        cast(weeks.week_number as bigint) as week_number,
        together.week_first_on,
        together.lesson_kind,
        cast(together.lesson_count as bigint) as lesson_count,
        cast(together.due_count as double) as due_count,
        weeks.is_break
    from together
    inner join weeks
        on
            together.school_id = weeks.school_id
            and together.term_id = weeks.term_id
            and together.week_first_on = weeks.week_first_on
)

select * from shown
