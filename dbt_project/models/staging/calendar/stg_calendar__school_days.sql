with source as (
    select * from {{ source('latest', 'school_days') }}
),

renamed as (
    select
        school_id,

        day_on,

        day_kind,
        applies_to,
        label,

        coalesce(lost_minutes, 0) as lost_minutes,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
