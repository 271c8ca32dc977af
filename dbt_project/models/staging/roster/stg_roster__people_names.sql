with source as (
    select * from {{ source('latest_names', 'people') }}
),

renamed as (
    select
        person_id,

        given_name,
        family_name,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
