with lessons as (
    select * from {{ ref('fct_lessons') }}
    where status in ('delivered', 'partly')
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

last_lessons as (
    select
        class_id,
        routine_id,
        max(taught_on) as last_taught_on
    from lessons
    group by class_id, routine_id
),

days_since as (
    select
        last_lessons.class_id,
        last_lessons.routine_id,
        last_lessons.last_taught_on,
        count(school_days.day_on) as days_since_taught
    from last_lessons
    left join school_days
        on
            last_lessons.class_id = school_days.class_id
            and last_lessons.last_taught_on < school_days.day_on
    group by last_lessons.class_id, last_lessons.routine_id, last_lessons.last_taught_on
)

select * from days_since
