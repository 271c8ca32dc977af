with classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_grades as (
    select * from {{ ref('int_class_grades') }}
),

-- Which classes make up a class, a grade, a school. A mixed-grade class is in each of its grades.
level_classes as (
    select
        school_id,
        class_id as member_class_id,
        'class' as level_code,
        class_id,
        '*' as grade_code
    from classes
    union all
    select
        school_id,
        class_id as member_class_id,
        'grade' as level_code,
        '*' as class_id,
        grade_code
    from class_grades
    union all
    select
        school_id,
        class_id as member_class_id,
        'school' as level_code,
        '*' as class_id,
        '*' as grade_code
    from classes
)

select * from level_classes
