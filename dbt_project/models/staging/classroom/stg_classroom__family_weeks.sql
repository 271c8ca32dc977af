with source as (
    select * from {{ source('latest', 'family_practice') }}
),

renamed as (
    select
        class_id,
        routine_id,

        week_first_on,

        families_asked as families_asked_count,
        families_reported as families_reported_count,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
