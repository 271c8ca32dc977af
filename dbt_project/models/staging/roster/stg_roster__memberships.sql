with source as (
    select * from {{ source('latest', 'memberships') }}
),

renamed as (
    select
        class_id,
        person_id,

        begin_on,
        coalesce(end_on, cast('9999-12-31' as date)) as end_on,

        role,

        coalesce(is_primary, role = 'student') as is_primary,
        coalesce(is_draw_eligible, true) as is_draw_eligible,

        share,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
