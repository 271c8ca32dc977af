with source as (
    select * from {{ source('latest', 'observation_rows') }}
),

renamed as (
    select
        observation_id,

        row_type,
        code,
        target_slot,

        row_number,
        value,
        step_number,
        at_seconds,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
