with people as (
    select * from {{ ref('stg_roster__people') }}
),

final as (
    select
        person_id,
        role
    from people
)

select * from final
