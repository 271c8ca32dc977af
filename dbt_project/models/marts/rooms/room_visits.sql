with visits as (
    select * from {{ ref('fct_observations') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

starts as (
    select * from {{ ref('fct_visit_starts') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

shown as (
    select
        visits.observation_id,
        visits.class_id,
        visits.routine_id,
        routines.routine_name,
        {{ visit_columns('visits', 'starts') }},
        visits.feedback_at,
        visits.feedback_at is not null as has_feedback,
        {{ lineage_columns() }}
    from visits
    inner join classes on visits.class_id = classes.class_id
    left join starts on visits.observation_id = starts.observation_id
    left join routines on visits.routine_id = routines.routine_id
)

select * from shown
