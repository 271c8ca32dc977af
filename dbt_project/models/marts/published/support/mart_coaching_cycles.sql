with outcomes as (
    select * from {{ ref('fct_coaching_outcomes') }}
),

shown as (
    select
        cycle_id,
        class_id,
        school_id,
        routine_id,
        term_id,
        coach_id,
        started_on as began_on,
        last_event_on,
        closed_on,
        coaching_first_on as coached_from_on,
        phase,
        cast(event_count as bigint) as event_count,
        is_open,
        goal_measure,
        cast(goal_value as double) as goal_value,
        round(before_value, 9) as before_value,
        before_session_count,
        round(after_value, 9) as after_value,
        after_session_count,
        case when outcome_code != 'early' then round(after_value - before_value, 9) end
            as change_value,
        outcome_code,
        logged_outcome,
        {{ lineage_columns() }}
    from outcomes
)

select * from shown
