with memberships as (
    select * from {{ ref('stg_roster__memberships') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

-- Half-open intervals: `end_on` is the first day no longer in.
class_pupils as (
    select
        classes.school_id,
        memberships.class_id,
        memberships.person_id as pupil_id,
        memberships.begin_on,
        memberships.end_on,
        memberships.is_primary,
        memberships.is_draw_eligible
    from memberships
    inner join classes on memberships.class_id = classes.class_id
    where
        memberships.role = 'student'
        and memberships.begin_on < memberships.end_on
)

select * from class_pupils
