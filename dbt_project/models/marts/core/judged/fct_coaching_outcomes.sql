{%- set level = threshold('ci_level') -%}
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

spread as (
    select
        *,
        {{ is_readable_change('before', 'after') }} as is_readable,
        before_session_count + after_session_count - 2 as spread_df,
        {{ count_of_both('before', 'after') }} as both_count,
        {{ pooled_spread('before', 'after') }} as spread
    from sides
),

-- The same rule as for a decision of the team: one word means one thing on every card.
margins as (
    select
        *,
        case when is_readable then after_value - before_value end as change_value,
        case when is_readable then {{ t_margin('spread', 'both_count', 'spread_df', level) }} end
            as change_margin
    from spread
),

judged as (
    select
        *,
        change_value - change_margin as change_low,
        change_value + change_margin as change_high
    from margins
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
        {%- for figure in ['value', 'low', 'high'] %}
        {{ nine_places('judged.change_' ~ figure) }} as change_{{ figure }},
        {%- endfor %}
        {{ moved_code('judged.is_readable', 'judged.change_low', 'judged.change_high') }}
            as outcome_code,
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
