with classes as (
    select * from {{ ref('dim_classes') }}
),

rewordings as (
    select * from {{ ref('dim_definition_changes') }}
),

cycles as (
    select * from {{ ref('fct_coaching_cycles') }}
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'teacher' and is_primary
),

reworded as (
    select
        classes.school_id,
        classes.class_id,
        rewordings.routine_id,
        rewordings.changed_on,
        'definition_change' as change_code
    from classes
    inner join rewordings on classes.school_id = rewordings.school_id
),

coached as (
    select distinct
        classes.school_id,
        classes.class_id,
        coalesce(cycles.routine_id, '*') as routine_id,
        cycles.coaching_first_on as changed_on,
        'coaching_start' as change_code
    from classes
    inner join cycles on classes.class_id = cycles.class_id
    where cycles.coaching_first_on <= {{ as_of_on() }}
),

-- The first teacher of a class is where it began, not a change.
teachers as (
    select
        class_id,
        person_id,
        begin_on,
        lag(person_id) over (
            partition by class_id
            order by begin_on, person_id
        ) as person_before
    from memberships
),

new_teachers as (
    select distinct
        classes.school_id,
        classes.class_id,
        '*' as routine_id,
        teachers.begin_on as changed_on,
        'new_teacher' as change_code
    from classes
    inner join teachers on classes.class_id = teachers.class_id
    where
        teachers.person_before is not null
        and teachers.person_before != teachers.person_id
        and teachers.begin_on <= {{ as_of_on() }}
),

together as (
    select * from reworded
    union all
    select * from coached
    union all
    select * from new_teachers
)

select * from together
