with sessions as (
    select * from {{ ref('stg_classroom__observation_sessions') }}
    where {{ is_known('observed_on') }}
),

counts as (
    select * from {{ ref('int_observation_counts') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

routines as (
    select * from {{ ref('int_routine_versions') }}
    where is_newest
),

term_days as (
    select * from {{ ref('int_term_days') }}
),

-- Two observers of a pair are one visit. Training is kept and never counted.
placed as (
    select
        sessions.*,
        counts.*,
        classes.school_id,
        routines.tier_code,
        term_days.term_id,
        {{ week_first('sessions.observed_on') }} as week_first_on,
        coalesce(sessions.pair_id, sessions.observation_id) as visit_id,
        sessions.taught_by_role = 'substitute' as is_substitute,
        sessions.purpose != 'training' and counts.row_count is not null as is_counted
    from sessions
    inner join classes on sessions.class_id = classes.class_id
    left join counts on sessions.observation_id = counts.counted_observation_id
    left join routines on sessions.routine_id = routines.routine_id
    left join term_days
        on classes.school_id = term_days.school_id and sessions.observed_on = term_days.day_on
),

judged as (
    select
        *,
        coalesce(
            (steps_done_count + steps_not_done_count)
            < {{ threshold('seen_share') }}
            * (steps_done_count + steps_not_done_count + steps_not_seen_count),
            false
        ) as is_steps_thin,
        coalesce(
            moments_hidden_count
            > {{ threshold('not_visible_share') }} * (
                moments_expected_count + moments_accommodated_count
                + moments_not_expected_count + moments_hidden_count
            ),
            false
        ) as is_looks_thin
    from placed
)

select * from judged
