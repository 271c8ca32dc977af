with source as (
    select * from {{ source('latest', 'observation_sessions') }}
),

renamed as (
    select
        observation_id,
        class_id,
        observer_id,
        pair_id,
        routine_id,

        observed_on,
        cast(started_at_local as string) as started_at_local,
        cast(feedback_at as timestamp) as feedback_at,

        setting,
        activity,
        taught_by_role,
        purpose,

        minutes_observed,
        minutes_instruction,
        expected_voice_level,
        interval_seconds,
        pupils_present as pupils_present_count,
        routine_version,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
