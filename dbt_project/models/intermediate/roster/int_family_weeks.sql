with family_weeks as (
    select * from {{ ref('stg_classroom__family_weeks') }}
    where {{ is_known('week_first_on') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session and is_elapsed
),

enrolment as (
    select * from {{ ref('int_class_day_enrolment') }}
),

routines as (
    select * from {{ ref('int_routine_versions') }}
    where is_newest
),

last_days as (
    select
        class_id,
        week_first_on,
        max(day_on) as event_on
    from class_days
    group by class_id, week_first_on
),

-- A week belongs to its last school day; one without a school day belongs to no window.
placed as (
    select
        classes.school_id,
        family_weeks.class_id,
        family_weeks.routine_id,
        family_weeks.week_first_on,
        last_days.event_on,
        routines.tier_code,
        family_weeks.families_asked_count,
        family_weeks.families_reported_count,
        enrolment.enrolled_count,
        family_weeks.received_at
    from family_weeks
    inner join classes on family_weeks.class_id = classes.class_id
    left join last_days
        on
            family_weeks.class_id = last_days.class_id
            and family_weeks.week_first_on = last_days.week_first_on
    left join enrolment
        on last_days.class_id = enrolment.class_id and last_days.event_on = enrolment.day_on
    left join routines on family_weeks.routine_id = routines.routine_id
)

select * from placed
