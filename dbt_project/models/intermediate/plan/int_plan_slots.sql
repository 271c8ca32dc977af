with class_plan as (
    select * from {{ ref('int_class_plan') }}
),

class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session or is_emergency_closed
),

-- Days that the plan could count on: those in session and those lost to an emergency.
window_days as (
    select
        class_plan.plan_id,
        class_plan.class_id,
        class_days.day_on,
        class_days.term_id,
        class_days.week_first_on,
        class_days.is_in_session,
        class_days.is_elapsed,
        count(*) over (
            partition by class_plan.plan_id, class_plan.class_id
        ) as planned_day_count,
        count(*) filter (where class_days.is_in_session) over (
            partition by class_plan.plan_id, class_plan.class_id order by class_days.day_on
        ) as taught_day_count
    from class_plan
    inner join class_days
        on
            class_plan.class_id = class_days.class_id
            and class_days.day_on
            between class_plan.window_first_on and class_plan.window_last_on
),

numbered as (
    select
        class_plan.*,
        {{ each_number('class_plan.planned_lesson_count') }} as slot_number
    from class_plan
),

sized as (
    select
        plan_id,
        class_id,
        max(planned_day_count) as planned_day_count
    from window_days
    group by plan_id, class_id
),

-- Pro rata: after e of D days, n x e / D lessons are due, rounded; so lesson k becomes due on day
-- ceil((2 k - 1) D / 2 n). Days lost to an emergency never come, and lessons fall away with them.
timed as (
    select
        numbered.*,
        cast(
            ceil(
                (2 * numbered.slot_number - 1) * sized.planned_day_count
                / (2.0 * numbered.planned_lesson_count)
            ) as bigint
        ) as due_day_count
    from numbered
    inner join sized
        on numbered.plan_id = sized.plan_id and numbered.class_id = sized.class_id
),

slots as (
    select
        timed.plan_id || ':' || timed.class_id || ':' || timed.slot_number as slot_id,
        timed.school_id,
        timed.class_id,
        timed.routine_id,
        timed.plan_id,
        timed.plan_version,
        timed.lesson_kind,
        timed.window_first_on,
        timed.window_last_on,
        timed.slot_number,
        timed.planned_minutes,
        window_days.term_id,
        window_days.day_on as due_on,
        window_days.week_first_on,
        window_days.is_elapsed as is_due
    from timed
    inner join window_days
        on
            timed.plan_id = window_days.plan_id
            and timed.class_id = window_days.class_id
            and timed.due_day_count = window_days.taught_day_count
            and window_days.is_in_session
)

select * from slots
