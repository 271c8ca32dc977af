with routines as (
    select * from {{ ref('dim_routines') }}
),

steps as (
    select * from {{ ref('dim_routine_steps') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

shown as (
    select
        schools.school_id,
        routines.routine_id,
        cast(routines.version as bigint) as version,
        cast(steps.step_number as bigint) as step_number,
        steps.step_text,
        steps.is_critical,
        {{ lineage_columns() }}
    from routines
    inner join steps
        on routines.routine_id = steps.routine_id and routines.version = steps.version
    cross join schools
)

select * from shown
