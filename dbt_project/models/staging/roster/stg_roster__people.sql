with source as (
    select * from {{ source('latest', 'people') }}
),

renamed as (
    select
        person_id,

        role,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
