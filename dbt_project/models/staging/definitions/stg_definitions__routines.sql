with source as (
    select * from {{ source('latest', 'routines') }}
),

renamed as (
    select
        routine_id,

        valid_from_on,
        valid_to_on,

        name as routine_name,
        expectation,
        setting,
        cast(tier as string) as tier_code,
        kind,
        grades as grade_codes,
        accepted_alternatives,

        version,
        expected_voice_level,
        target_seconds,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
