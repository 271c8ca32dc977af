with slots as (
    select * from {{ ref('fct_plan_slots') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

routines as (
    select * from {{ ref('dim_routines') }}
),

shown as (
    select
        slots.slot_id as plan_slot_id,
        slots.class_id,
        slots.routine_id,
        coalesce(routines.routine_name, slots.routine_id) as routine_name,
        slots.term_id,
        slots.lesson_kind,
        cast(slots.slot_number as bigint) as slot_number,
        slots.window_first_on,
        slots.window_last_on,
        slots.due_on,
        cast(slots.planned_minutes as double) as planned_minutes,
        slots.status,
        slots.lesson_id,
        slots.taught_on
    from slots
    inner join classes on slots.class_id = classes.class_id
    left join routines on slots.routine_id = routines.routine_id
)

select * from shown
