with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted and term_id is not null and not is_substitute
),

step_rows as (
    select * from {{ ref('stg_classroom__observation_rows') }}
    where row_type = 'step' and step_number is not null
),

routines as (
    select * from {{ ref('int_routine_versions') }}
    where is_newest
),

results as (
    select
        sessions.school_id,
        sessions.class_id,
        sessions.routine_id,
        sessions.term_id,
        coalesce(sessions.routine_version, routines.version) as version,
        step_rows.step_number,
        count(*) filter (where step_rows.code = 'done') as done_count,
        count(*) filter (where step_rows.code = 'not_done') as not_done_count,
        count(*) filter (where step_rows.code = 'not_applicable') as not_applicable_count,
        count(*) filter (where step_rows.code = 'not_seen') as not_seen_count
    from sessions
    inner join step_rows on sessions.observation_id = step_rows.observation_id
    inner join routines on sessions.routine_id = routines.routine_id
    group by
        sessions.school_id,
        sessions.class_id,
        sessions.routine_id,
        sessions.term_id,
        coalesce(sessions.routine_version, routines.version),
        step_rows.step_number
)

select * from results
