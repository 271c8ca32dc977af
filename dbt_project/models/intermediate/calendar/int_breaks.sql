with class_days as (
    select * from {{ ref('int_class_days') }}
),

entries as (
    select * from {{ ref('stg_calendar__school_days') }}
),

school_days as (
    select distinct
        school_id,
        school_year_ends,
        day_on
    from class_days
    where is_in_session
),

years as (
    select
        school_id,
        school_year_ends,
        {{ each_day('min(day_on)', 'max(day_on)') }} as day_on
    from school_days
    group by school_id, school_year_ends
),

-- Weekdays without school get the number of school days before them: one number, one stretch.
numbered as (
    select
        years.school_id,
        years.school_year_ends,
        years.day_on,
        school_days.day_on is null and {{ weekday_number('years.day_on') }} <= 5 as is_closed,
        count(school_days.day_on) over (
            partition by years.school_id, years.school_year_ends order by years.day_on
        ) as stretch_number
    from years
    left join school_days
        on years.school_id = school_days.school_id and years.day_on = school_days.day_on
),

stretches as (
    select
        numbered.school_id,
        min(numbered.day_on) as first_on,
        max(numbered.day_on) as last_on,
        coalesce(max(entries.label), 'Break') as label,
        count(distinct numbered.day_on) as weekday_count
    from numbered
    left join entries
        on
            numbered.school_id = entries.school_id
            and numbered.day_on = entries.day_on
            and entries.applies_to = '*'
    where numbered.is_closed
    group by numbered.school_id, numbered.school_year_ends, numbered.stretch_number
)

select * from stretches
where weekday_count >= {{ threshold('break_weekdays') }}
