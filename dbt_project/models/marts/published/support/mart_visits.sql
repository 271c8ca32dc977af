with visits as (
    select * from {{ ref('fct_observations') }}
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
    left join starts on visits.observation_id = starts.observation_id
)

select * from shown
