with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted and setting is not null and started_at_local is not null
),

slots as (
    select * from {{ ref('int_plan_slot_statuses') }}
),

routines as (
    select * from {{ ref('int_routine_versions') }}
    where is_newest
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

halves as (
    select * from {{ ref('seed_day_halves') }}
),

-- Planned: lessons due by the setting of their routine, shared equally over the halves of the day
-- in which the class is in school.
planned as (
    select
        slots.class_id,
        slots.due_on as event_on,
        routines.setting,
        halves.half_code,
        1.0 / count(*) over (partition by slots.slot_id) as planned_weight,
        0.0 as seen_weight
    from slots
    inner join routines on slots.routine_id = routines.routine_id
    inner join classes on slots.class_id = classes.class_id
    inner join halves on classes.session_pattern = halves.session_pattern
),

seen as (
    select
        class_id,
        observed_on as event_on,
        setting,
        case when started_at_local < '12:00:00' then 'am' else 'pm' end as half_code,
        0.0 as planned_weight,
        1.0 / count(*) over (partition by visit_id) as seen_weight
    from sessions
),

both_sides as (
    select * from planned
    union all
    select * from seen
)

select * from both_sides
