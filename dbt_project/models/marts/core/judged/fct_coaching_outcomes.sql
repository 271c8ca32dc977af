with cycles as (
    select * from {{ ref('fct_coaching_cycles') }}
),

scores as (
    select * from {{ ref('fct_coaching_scores') }}
),

effects as (
    select * from {{ ref('fct_coaching_effects') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

sides as (
    select
        cycle_id,
        avg(score) filter (where not is_after) as before_value,
        count(score) filter (where not is_after) as before_session_count,
        coalesce(var_samp(score) filter (where not is_after), 0) as before_variance,
        avg(score) filter (where is_after) as after_value,
        count(score) filter (where is_after) as after_session_count,
        coalesce(var_samp(score) filter (where is_after), 0) as after_variance
    from scores
    group by cycle_id
),

-- How much a difference of two means of so many visits varies by itself (pooled spread).
judged as (
    select
        *,
        before_session_count >= {{ threshold('min_sessions') }}
        and after_session_count >= {{ threshold('min_sessions') }} as is_readable,
        sqrt(
            (
                (before_session_count - 1) * before_variance
                + (after_session_count - 1) * after_variance
            )
            / nullif(before_session_count + after_session_count - 2, 0)
            * (1.0 / nullif(before_session_count, 0) + 1.0 / nullif(after_session_count, 0))
        ) as difference_spread
    from sides
),

shown as (
    select
        cycles.cycle_id,
        cycles.class_id,
        cycles.school_id,
        cycles.routine_id,
        terms.term_id,
        cycles.coach_id,
        cycles.started_on,
        cycles.last_event_on,
        cycles.closed_on,
        cycles.coaching_first_on,
        cycles.phase,
        cycles.event_count,
        cycles.is_open,
        cycles.goal_measure,
        cycles.goal_value,
        cycles.outcome as logged_outcome,
        judged.before_value,
        coalesce(judged.before_session_count, 0) as before_session_count,
        judged.after_value,
        coalesce(judged.after_session_count, 0) as after_session_count,
        case
            when not coalesce(judged.is_readable, false) then 'early'
            when
                judged.after_value - judged.before_value
                > {{ one_sided_z() }} * judged.difference_spread
                then 'moved'
            else 'same'
        end as outcome_code,
        effects.effect_code,
        effects.nap,
        effects.nap_low,
        effects.nap_high,
        effects.tau,
        effects.tau_trend_free,
        effects.log_ratio,
        effects.log_ratio_low,
        effects.log_ratio_high,
        effects.start_option_count,
        effects.smallest_p,
        effects.lot_p
    from cycles
    inner join effects on cycles.cycle_id = effects.cycle_id
    left join judged on cycles.cycle_id = judged.cycle_id
    left join terms
        on
            cycles.school_id = terms.school_id
            and cycles.started_on between terms.first_on and terms.last_on
)

select * from shown
