with source as (
    select * from {{ source('latest', 'terms') }}
),

renamed as (
    select
        term_id,
        school_id,
        parent_term_id,

        first_on,
        last_on,

        kind,
        title,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
