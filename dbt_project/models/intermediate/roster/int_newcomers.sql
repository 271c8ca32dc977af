with class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session and is_elapsed
),

-- Joined after the first school day of the class in that year. Who only changed to another line of
-- the same class, without a gap, is no newcomer.
begun as (
    select
        class_pupils.school_id,
        class_pupils.class_id,
        class_pupils.pupil_id,
        class_pupils.begin_on,
        class_pupils.end_on
    from class_pupils
    left join class_pupils as earlier
        on
            class_pupils.class_id = earlier.class_id
            and class_pupils.pupil_id = earlier.pupil_id
            and class_pupils.begin_on > earlier.begin_on
            and class_pupils.begin_on <= earlier.end_on
    where earlier.pupil_id is null
),

-- The first day in class counts as the first of the days in which a newcomer is to be reached.
numbered as (
    select
        begun.school_id,
        begun.class_id,
        begun.pupil_id,
        begun.begin_on,
        class_days.day_on,
        class_days.school_year_ends,
        row_number() over (
            partition by begun.class_id, begun.pupil_id, begun.begin_on order by class_days.day_on
        ) as day_number
    from begun
    inner join class_days
        on
            begun.class_id = class_days.class_id
            and begun.begin_on <= class_days.day_on
            and begun.end_on > class_days.day_on
),

years as (
    select
        class_id,
        school_year_ends,
        min(day_on) as year_first_on
    from class_days
    group by class_id, school_year_ends
),

-- Only those whose days are over: the others are not decided yet.
newcomers as (
    select
        numbered.school_id,
        numbered.class_id,
        numbered.pupil_id,
        years.year_first_on,
        min(numbered.day_on) as joined_on,
        max(numbered.day_on) as deadline_on
    from numbered
    inner join years
        on
            numbered.class_id = years.class_id
            and numbered.school_year_ends = years.school_year_ends
    where numbered.day_number <= {{ threshold('newcomer_days') }}
    group by
        numbered.school_id,
        numbered.class_id,
        numbered.pupil_id,
        numbered.begin_on,
        years.year_first_on
    having
        count(*) = {{ threshold('newcomer_days') }}
        and min(numbered.day_on) > years.year_first_on
)

select * from newcomers
