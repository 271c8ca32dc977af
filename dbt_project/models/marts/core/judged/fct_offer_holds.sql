with standing as (
    select * from {{ ref('fct_offer_standing') }}
),

matters as (
    select * from {{ ref('fct_offer_matters') }}
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

held_by_grade as (
    select distinct
        matters.review_on,
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
        review_on,
        routine_id
    from matters
    where level_code = 'school'
),

held as (
    select
        standing.review_on,
        standing.class_id,
        standing.routine_id,
        held_by_school.routine_id is not null as is_school_matter,
        held_by_grade.routine_id is not null as is_grade_matter
    from standing
    left join held_by_school
        on
            standing.school_id = held_by_school.school_id
            and standing.review_on = held_by_school.review_on
            and standing.routine_id = held_by_school.routine_id
    left join held_by_grade
        on
            standing.review_on = held_by_grade.review_on
            and standing.class_id = held_by_grade.class_id
            and standing.routine_id = held_by_grade.routine_id
)

select * from held
