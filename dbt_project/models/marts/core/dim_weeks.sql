with class_days as (
    select * from {{ ref('int_class_days') }}
),

term_days as (
    select * from {{ ref('int_term_days') }}
    where {{ weekday_number('day_on') }} <= 5
),

open_days as (
    select distinct
        school_id,
        day_on
    from class_days
    where is_in_session
),

weeks as (
    select
        term_days.school_id,
        term_days.term_id,
        term_days.week_first_on,
        count(open_days.day_on) = 0 as is_break,
        min(term_days.day_on) <= {{ as_of_on() }} as is_elapsed,
        row_number() over (
            partition by term_days.school_id, term_days.term_id order by term_days.week_first_on
        ) as week_number,
        count(open_days.day_on) as in_session_day_count
    from term_days
    left join open_days
        on term_days.school_id = open_days.school_id and term_days.day_on = open_days.day_on
    group by term_days.school_id, term_days.term_id, term_days.week_first_on
)

select * from weeks
