with class_plan as (
    select * from {{ ref('int_class_plan') }}
),

lessons as (
    select * from {{ ref('int_lessons') }}
    where delivered_share > 0
),

slots as (
    select * from {{ ref('int_plan_slot_statuses') }}
),

planned_routines as (
    select distinct
        class_id,
        routine_id
    from class_plan
),

-- Minutes of every lesson of a planned routine, whatever its kind, beside the minutes due.
parts as (
    select
        {{ lesson_part('lessons', numerator='coalesce(lessons.minutes, 0.0)') }}
    from lessons
    inner join planned_routines
        on
            lessons.class_id = planned_routines.class_id
            and lessons.routine_id = planned_routines.routine_id
    union all
    select
        {{ slot_part('slots', denominator='slots.planned_minutes') }}
    from slots
)

select * from parts
