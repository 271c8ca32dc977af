with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

final as (
    select
        observation_id,
        visit_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        observer_id,
        pair_id,
        observed_on,
        week_first_on,
        feedback_at,
        purpose,
        setting,
        activity,
        taught_by_role,
        is_substitute,
        is_counted,
        is_steps_thin or is_looks_thin as is_thin,
        routine_version,
        expected_voice_level,
        pupils_present_count,
        cast(minutes_observed as double) as minutes_observed,
        cast(minutes_instruction as double) as minutes_instruction,
        coalesce(moments_expected_count, 0) as moments_expected_count,
        coalesce(moments_accommodated_count, 0) as moments_accommodated_count,
        coalesce(moments_not_expected_count, 0) as moments_not_expected_count,
        coalesce(moments_hidden_count, 0) as moments_hidden_count,
        coalesce(steps_done_count, 0) as steps_done_count,
        coalesce(steps_not_done_count, 0) as steps_not_done_count,
        coalesce(steps_not_seen_count, 0) as steps_not_seen_count,
        coalesce(ratings_count, 0) as ratings_count,
        coalesce(ratings_sum, 0.0) as ratings_sum,
        coalesce(voice_count, 0) as voice_count,
        coalesce(voice_match_count, 0) as voice_match_count,
        coalesce(voice_tolerant_count, 0) as voice_tolerant_count,
        coalesce(voice_bias_sum, 0.0) as voice_bias_sum,
        coalesce(products_count, 0) as products_count,
        coalesce(products_present_count, 0) as products_present_count,
        coalesce(opportunities_individual_count, 0) as opportunities_individual_count,
        coalesce(opportunities_group_count, 0) as opportunities_group_count,
        coalesce(praise_count, 0) as praise_count,
        coalesce(praise_specific_count, 0) as praise_specific_count,
        coalesce(corrections_count, 0) as corrections_count,
        coalesce(corrections_harsh_count, 0) as corrections_harsh_count,
        coalesce(latency_count, 0) as latency_count,
        {{ rounded_share('steps_done_count', 'steps_done_count + steps_not_done_count') }}
            as adherence_rate,
        {{ rounded_share('ratings_sum', '3.0 * ratings_count') }} as quality_rate,
        {{ rounded_share(
            'moments_expected_count + moments_accommodated_count',
            'moments_expected_count + moments_accommodated_count + moments_not_expected_count'
        ) }} as responsiveness_rate,
        {{ rounded_share('voice_match_count', 'voice_count') }} as voice_match_rate,
        {{ rounded_share(
            '(case when event_count > 0 then 1 end)'
            ~ ' * (opportunities_individual_count + opportunities_group_count)',
            'minutes_instruction'
        ) }} as opportunities_per_minute,
        {{ rounded_share(
            '(case when event_count > 0 then 1 end) * praise_count', 'minutes_instruction'
        ) }} as praise_per_minute,
        {{ rounded_share(
            '(case when event_count > 0 then 1 end) * corrections_count', 'minutes_instruction'
        ) }} as correction_per_minute
    from sessions
)

select * from final
