with lessons as (
    select * from {{ ref('fct_lessons') }}
),

cycles as (
    select * from {{ ref('fct_coaching_cycles') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

changes as (
    select * from {{ ref('dim_definition_changes') }}
),

-- One mark a week is enough: the first day of the week on which a substitute taught.
substitutes as (
    select
        class_id,
        '*' as routine_id,
        min(taught_on) as marked_on,
        'substitute' as mark_code,
        'relief teacher' as label
    from lessons
    where is_substitute
    group by class_id, week_first_on
),

coaching as (
    select
        class_id,
        coalesce(routine_id, '*') as routine_id,
        coaching_first_on as marked_on,
        'coaching_start' as mark_code,
        'coaching began' as label
    from cycles
    where coaching_first_on <= {{ as_of_on() }}
    group by class_id, routine_id, coaching_first_on
),

reworded as (
    select
        classes.class_id,
        changes.routine_id,
        changes.changed_on as marked_on,
        'definition_change' as mark_code,
        changes.label
    from classes
    inner join changes on classes.school_id = changes.school_id
),

together as (
    select * from substitutes
    union all
    select * from coaching
    union all
    select * from reworded
),

shown as (
    select
        classes.class_id,
        classes.school_id,
        together.routine_id,
        together.marked_on,
        together.mark_code,
        together.label
    from together
    inner join classes on together.class_id = classes.class_id
)

select * from shown
