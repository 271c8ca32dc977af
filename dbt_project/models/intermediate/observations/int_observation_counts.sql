with observed as (
    select * from {{ ref('stg_classroom__observation_rows') }}
),

sessions as (
    select * from {{ ref('stg_classroom__observation_sessions') }}
),

-- Counts of one visit. `interval` rows are timed looks like `moment` rows.
counted as (
    select
        observed.observation_id as counted_observation_id,
        count(*) as row_count,
        {{ count_rows(['moment', 'interval'], ['expected']) }} as moments_expected_count,
        {{ count_rows(['moment', 'interval'], ['accommodated']) }} as moments_accommodated_count,
        {{ count_rows(['moment', 'interval'], ['not_expected']) }} as moments_not_expected_count,
        {{ count_rows(['moment', 'interval'], ['not_visible', 'out_of_room']) }}
            as moments_hidden_count,
        {{ count_rows(['step'], ['done']) }} as steps_done_count,
        {{ count_rows(['step'], ['not_done']) }} as steps_not_done_count,
        {{ count_rows(['step'], ['not_seen']) }} as steps_not_seen_count,
        count(*) filter (where observed.row_type = 'rating' and observed.value is not null)
            as ratings_count,
        coalesce(sum(observed.value) filter (where observed.row_type = 'rating'), 0.0)
            as ratings_sum,
        {{ count_voices('true') }} as voice_count,
        {{ count_voices('observed.value = sessions.expected_voice_level') }} as voice_match_count,
        {{ count_voices(
            "abs(observed.value - sessions.expected_voice_level) <= " ~ threshold('voice_tolerance')
            ~ " and (observed.value = 0) = (sessions.expected_voice_level = 0)"
        ) }} as voice_tolerant_count,
        coalesce(
            sum(observed.value - sessions.expected_voice_level)
            filter (where observed.row_type = 'voice'),
            0.0
        ) as voice_bias_sum,
        {{ count_rows(['product'], ['present', 'absent']) }} as products_count,
        {{ count_rows(['product'], ['present']) }} as products_present_count,
        count(*) filter (where observed.row_type = 'event') as event_count,
        {{ count_rows(['event'], ['opportunity_individual']) }} as opportunities_individual_count,
        {{ count_rows(['event'], ['opportunity_group']) }} as opportunities_group_count,
        {{ count_rows(['event'], ['praise_specific', 'praise_general']) }} as praise_count,
        {{ count_rows(['event'], ['praise_specific']) }} as praise_specific_count,
        {{ count_rows(['event'], ['correction_calm', 'correction_harsh']) }} as corrections_count,
        {{ count_rows(['event'], ['correction_harsh']) }} as corrections_harsh_count,
        count(*) filter (where observed.row_type = 'latency') as latency_count
    from observed
    inner join sessions on observed.observation_id = sessions.observation_id
    group by observed.observation_id
)

select * from counted
