with newcomers as (
    select * from {{ ref('int_newcomers') }}
),

lessons as (
    select * from {{ ref('int_lessons') }}
    where delivered_share > 0
),

-- What the newcomer missed: routines taught in this class and year before the first day in it; and
-- whether one of their lessons fell into the days in which a newcomer is to be reached.
missed as (
    select
        newcomers.school_id,
        newcomers.class_id,
        newcomers.pupil_id,
        newcomers.joined_on,
        newcomers.deadline_on,
        lessons.routine_id,
        max(
            case
                when lessons.taught_on between newcomers.joined_on and newcomers.deadline_on
                    then 1
                else 0
            end
        ) as is_reached
    from newcomers
    inner join lessons
        on
            newcomers.class_id = lessons.class_id
            and lessons.taught_on between newcomers.year_first_on and newcomers.deadline_on
    group by
        newcomers.school_id,
        newcomers.class_id,
        newcomers.pupil_id,
        newcomers.joined_on,
        newcomers.deadline_on,
        lessons.routine_id
    having min(lessons.taught_on) < newcomers.joined_on
)

select * from missed
