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

-- Every lesson of a planned routine, whatever its kind, beside what was due.
parts as (
    {{ dose_parts(
        'planned_routines', ['class_id', 'routine_id'],
        given='lessons.delivered_share', due='1.0'
    ) }}
)

select * from parts
