with source as (
    select * from {{ source('latest', 'schools') }}
),

renamed as (
    select
        school_id,
        parent_id,

        name as school_name,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
