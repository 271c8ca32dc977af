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

planned_kinds as (
    select distinct
        class_id,
        routine_id,
        lesson_kind
    from class_plan
),

-- What was given of the planned kinds, and what was due; the roll-up caps routine by routine.
parts as (
    select
        {{ lesson_part('lessons', numerator='lessons.delivered_share') }}
    from lessons
    inner join planned_kinds
        on
            lessons.class_id = planned_kinds.class_id
            and lessons.routine_id = planned_kinds.routine_id
            and lessons.lesson_kind = planned_kinds.lesson_kind
    union all
    select
        {{ slot_part('slots', denominator='1.0') }}
    from slots
)

select * from parts
