with memberships as (
    select * from {{ ref('stg_roster__memberships') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

final as (
    select
        memberships.class_id,
        classes.school_id,
        memberships.person_id,
        memberships.role,
        memberships.begin_on,
        memberships.end_on,
        memberships.begin_on <= {{ as_of_on() }}
        and {{ as_of_on() }} < memberships.end_on as is_member,
        memberships.is_draw_eligible,
        memberships.is_primary,
        memberships.share
    from memberships
    inner join classes on memberships.class_id = classes.class_id
)

select * from final
