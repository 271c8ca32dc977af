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

-- Minutes given of the planned kinds, and minutes due; the roll-up caps routine by routine.
parts as (
    {{ dose_parts(
        'planned_kinds', ['class_id', 'routine_id', 'lesson_kind'],
        given='coalesce(lessons.minutes, 0.0)', due='slots.planned_minutes'
    ) }}
)

select * from parts
