with routines as (
    select * from {{ ref('stg_definitions__routines') }}
),

steps as (
    select * from {{ ref('stg_definitions__routine_steps') }}
),

step_counts as (
    select
        routine_id,
        version,
        count(*) as step_count
    from steps
    group by routine_id, version
),

-- A version that begins after the as-of day is not known yet; the first one always is.
known as (
    select
        routines.*,
        row_number() over (partition by routines.routine_id order by routines.version)
        = 1 as is_first
    from routines
    qualify is_first or routines.valid_from_on <= {{ as_of_on() }}
),

versions as (
    select
        known.*,
        coalesce(step_counts.step_count, 0) as step_count,
        count(*) over (partition by known.routine_id) as version_count,
        row_number() over (
            partition by known.routine_id order by known.version desc
        ) = 1 as is_newest
    from known
    left join step_counts
        on known.routine_id = step_counts.routine_id and known.version = step_counts.version
)

select * from versions
