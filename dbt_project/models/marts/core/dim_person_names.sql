with names as (
    select * from {{ ref('stg_roster__people_names') }}
),

final as (
    select
        person_id,
        given_name,
        upper(left(family_name, 1)) as family_initial
    from names
)

select * from final
