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
    {{ dose_parts(
        'planned_routines', ['class_id', 'routine_id'],
        given='coalesce(lessons.minutes, 0.0)', due='slots.planned_minutes'
    ) }}
)

select * from parts
