with steps as (
    select * from {{ ref('stg_definitions__routine_steps') }}
),

versions as (
    select * from {{ ref('int_routine_versions') }}
),

final as (
    select
        steps.routine_id,
        steps.version,
        steps.step_number,
        steps.step_text,
        steps.is_critical
    from steps
    inner join versions
        on steps.routine_id = versions.routine_id and steps.version = versions.version
)

select * from final
