with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

-- Every routine that is meant for a grade of the class has a line, so that silence has a reason.
routine_grades as (
    select
        routine_id,
        {{ each_part("coalesce(grade_codes, '*')") }} as grade_code
    from routines
),

pairs as (
    select distinct
        class_grades.class_id,
        class_grades.school_id,
        classes.title as class_title,
        classes.grade_codes,
        routine_grades.routine_id
    from class_grades
    inner join classes on class_grades.class_id = classes.class_id
    inner join routine_grades
        on
            class_grades.grade_code = routine_grades.grade_code
            or routine_grades.grade_code = '*'
)

select * from pairs
