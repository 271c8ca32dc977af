with source as (
    select * from {{ source('latest', 'routine_steps') }}
),

renamed as (
    select
        routine_id,

        text as step_text,

        is_critical,

        version,
        step_number,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
