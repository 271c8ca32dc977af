with versions as (
    select * from {{ ref('int_routine_versions') }}
),

final as (
    select
        routine_id,
        version,
        routine_name,
        expectation,
        setting,
        tier_code,
        kind,
        expected_voice_level,
        target_seconds,
        grade_codes,
        valid_from_on,
        valid_to_on,
        accepted_alternatives,
        version_count,
        step_count
    from versions
    where is_newest
)

select * from final
