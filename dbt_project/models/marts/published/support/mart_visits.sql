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

shown as (
    select
        visits.observation_id,
        visits.class_id,
        visits.school_id,
        visits.routine_id,
        visits.observer_id,
        visits.pair_id,
        {{ visit_columns('visits', 'starts') }},
        {{ lineage_columns() }}
    from visits
    inner join classes on visits.class_id = classes.class_id
    left join starts on visits.observation_id = starts.observation_id
)

select * from shown
