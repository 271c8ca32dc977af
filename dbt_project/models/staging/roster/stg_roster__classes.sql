with source as (
    select * from {{ source('latest', 'classes') }}
),

renamed as (
    select
        class_id,
        school_id,

        title,
        grades as grade_codes,
        session_pattern,

        school_year as school_year_ends,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
