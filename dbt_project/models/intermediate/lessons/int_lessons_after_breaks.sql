with breaks as (
    select
        *,
        lead(first_on) over (partition by school_id order by first_on) as next_first_on
    from {{ ref('int_breaks') }}
),

class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session and is_elapsed
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

lessons as (
    select * from {{ ref('int_lessons') }}
    where delivered_share > 0
),

-- From the first day back of the class until the next break, the end of the year or the as-of day.
class_breaks as (
    select
        class_days.school_id,
        class_days.class_id,
        class_days.school_year_ends,
        breaks.first_on as break_first_on,
        min(class_days.day_on) filter (where class_days.day_on > breaks.last_on) as back_on,
        max(class_days.day_on) filter (
            where class_days.day_on > breaks.last_on
            and class_days.day_on < coalesce(breaks.next_first_on, cast('9999-12-31' as date))
        ) as until_on,
        min(class_days.day_on) as year_first_on
    from class_days
    inner join breaks on class_days.school_id = breaks.school_id
    group by
        class_days.school_id,
        class_days.class_id,
        class_days.school_year_ends,
        breaks.first_on
    having
        min(class_days.day_on) < breaks.first_on
        and max(class_days.day_on) > breaks.first_on
),

-- Routines that the class had been taught in this school year before the break.
known_routines as (
    select distinct
        class_breaks.school_id,
        class_breaks.class_id,
        class_breaks.break_first_on,
        class_breaks.back_on,
        class_breaks.until_on,
        lessons.routine_id
    from class_breaks
    inner join lessons
        on
            class_breaks.class_id = lessons.class_id
            and class_breaks.year_first_on <= lessons.taught_on
            and class_breaks.break_first_on > lessons.taught_on
    where class_breaks.back_on is not null and class_breaks.until_on is not null
),

first_lessons as (
    select
        known_routines.class_id,
        known_routines.break_first_on,
        known_routines.routine_id,
        min(lessons.taught_on) as taught_on
    from known_routines
    inner join lessons
        on
            known_routines.class_id = lessons.class_id
            and known_routines.routine_id = lessons.routine_id
            and lessons.taught_on between known_routines.back_on and known_routines.until_on
    group by known_routines.class_id, known_routines.break_first_on, known_routines.routine_id
),

-- School days after the first day back: 0 on that day itself. Not yet taught: watched until then.
waits as (
    select
        known_routines.*,
        first_lessons.taught_on,
        first_lessons.taught_on is null as is_censored,
        end_days.school_days_so_far - back_days.school_days_so_far as waited_days
    from known_routines
    left join first_lessons
        on
            known_routines.class_id = first_lessons.class_id
            and known_routines.break_first_on = first_lessons.break_first_on
            and known_routines.routine_id = first_lessons.routine_id
    inner join day_counts as back_days
        on
            known_routines.class_id = back_days.class_id
            and known_routines.back_on = back_days.day_on
    inner join day_counts as end_days
        on
            known_routines.class_id = end_days.class_id
            and coalesce(first_lessons.taught_on, known_routines.until_on) = end_days.day_on
)

select * from waits
