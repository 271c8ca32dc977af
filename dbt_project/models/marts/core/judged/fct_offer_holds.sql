with signs as (
    select * from {{ ref('fct_offer_signs') }}
),

matters as (
    select * from {{ ref('fct_offer_matters') }}
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

held_by_grade as (
    select distinct
        class_grades.class_id,
        matters.routine_id
    from matters
    inner join class_grades
        on
            matters.school_id = class_grades.school_id
            and matters.grade_code = class_grades.grade_code
    where matters.level_code = 'grade'
),

held_by_school as (
    select
        school_id,
        routine_id
    from matters
    where level_code = 'school'
),

held as (
    select
        signs.class_id,
        signs.routine_id,
        held_by_school.routine_id is not null as is_school_matter,
        held_by_grade.routine_id is not null as is_grade_matter
    from signs
    left join held_by_school
        on
            signs.school_id = held_by_school.school_id
            and signs.routine_id = held_by_school.routine_id
    left join held_by_grade
        on
            signs.class_id = held_by_grade.class_id
            and signs.routine_id = held_by_grade.routine_id
)

select * from held
