with class_plan as (
    select * from {{ ref('int_class_plan') }}
),

lessons as (
    select * from {{ ref('int_lessons') }}
),

-- Each lesson belongs to one line of the plan at most: the window that opened first.
matched as (
    select
        class_plan.plan_id,
        class_plan.class_id,
        lessons.lesson_id,
        lessons.taught_on,
        lessons.started_at_local,
        lessons.status,
        lessons.cancel_reason,
        lessons.pupils_present_count,
        lessons.enrolled_count,
        lessons.delivered_share
    from class_plan
    inner join lessons
        on
            class_plan.class_id = lessons.class_id
            and class_plan.routine_id = lessons.routine_id
            and class_plan.lesson_kind = lessons.lesson_kind
            and lessons.taught_on between class_plan.window_first_on and class_plan.window_last_on
    qualify row_number() over (
        partition by lessons.lesson_id order by class_plan.window_first_on, class_plan.plan_id
    ) = 1
),

running as (
    select
        *,
        sum(delivered_share) over so_far as filled_to,
        sum(delivered_share) over so_far - delivered_share as filled_from,
        count(*) filter (where delivered_share = 0) over so_far as cancelled_number
    from matched
    window so_far as (
        partition by plan_id, class_id order by taught_on, started_at_local, lesson_id
        rows between unbounded preceding and current row
    )
)

select * from running
