with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

pairs as (
    select * from {{ ref('int_pair_sessions') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

visits as (
    select
        windows.school_id,
        windows.term_id,
        windows.window_code,
        sessions.visit_id,
        min(sessions.observed_on) as observed_on,
        min(sessions.class_id) as class_id,
        count(pairs.pair_id) > 0 as is_double
    from sessions
    inner join windows
        on
            sessions.class_id = windows.class_id
            and sessions.observed_on between windows.first_on and windows.last_on
    left join pairs on sessions.pair_id = pairs.pair_id
    group by windows.school_id, windows.term_id, windows.window_code, sessions.visit_id
),

counted as (
    select
        school_id,
        term_id,
        window_code,
        count(*) as visit_count,
        count(*) filter (where is_double) as double_count,
        count(distinct observed_on) as day_count,
        count(distinct class_id) as class_count
    from visits
    group by school_id, term_id, window_code
)

select * from counted
