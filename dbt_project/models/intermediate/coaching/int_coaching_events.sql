with events as (
    select * from {{ ref('stg_classroom__coaching_events') }}
    where {{ is_known('event_on') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

placed as (
    select
        events.*,
        classes.school_id
    from events
    inner join classes on events.class_id = classes.class_id
)

select * from placed
