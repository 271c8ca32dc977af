with lessons as (
    select * from {{ ref('fct_lessons') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

starts as (
    select * from {{ ref('fct_lesson_starts') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

shown as (
    select
        lessons.lesson_id,
        lessons.class_id,
        lessons.routine_id,
        coalesce(routines.routine_name, lessons.routine_id) as routine_name,
        lessons.term_id,
        lessons.week_first_on,
        lessons.taught_on,
        starts.started_at_local,
        cast(lessons.minutes as double) as minutes,
        lessons.lesson_kind,
        lessons.mode,
        lessons.practised_in,
        lessons.status,
        lessons.cancel_reason,
        lessons.is_substitute,
        cast(lessons.pupils_present_count as bigint) as pupils_present_count,
        cast(lessons.steps_done_count as bigint) as steps_done_count,
        cast(lessons.step_count as bigint) as step_count,
        lessons.entered_at,
        lessons.is_backfilled,
        starts.note
    from lessons
    inner join classes on lessons.class_id = classes.class_id
    left join starts on lessons.lesson_id = starts.lesson_id
    left join routines on lessons.routine_id = routines.routine_id
)

select * from shown
