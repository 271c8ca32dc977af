with outcomes as (
    select * from {{ ref('fct_coaching_outcomes') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

shown as (
    select
        outcomes.cycle_id,
        outcomes.class_id,
        outcomes.school_id,
        outcomes.routine_id,
        outcomes.term_id,
        outcomes.coach_id,
        outcomes.started_on as began_on,
        outcomes.last_event_on,
        outcomes.closed_on,
        outcomes.coaching_first_on as coached_from_on,
        outcomes.phase,
        cast(outcomes.event_count as bigint) as event_count,
        outcomes.is_open,
        outcomes.goal_measure,
        cast(outcomes.goal_value as double) as goal_value,
        round(outcomes.before_value, 9) as before_value,
        outcomes.before_session_count,
        round(outcomes.after_value, 9) as after_value,
        outcomes.after_session_count,
        outcomes.change_value,
        outcomes.change_low,
        outcomes.change_high,
        outcomes.outcome_code,
        outcomes.effect_code,
        outcomes.nap,
        outcomes.nap_low,
        outcomes.nap_high,
        outcomes.tau,
        outcomes.tau_trend_free,
        outcomes.log_ratio,
        outcomes.log_ratio_low,
        outcomes.log_ratio_high,
        outcomes.start_option_count,
        outcomes.smallest_p,
        outcomes.lot_p,
        outcomes.logged_outcome,
        {{ lineage_columns() }}
    from outcomes
    inner join classes on outcomes.class_id = classes.class_id
)

select * from shown
