with classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_grades as (
    select * from {{ ref('int_class_grades') }}
),

memberships as (
    select * from {{ ref('stg_roster__memberships') }}
    where begin_on <= {{ as_of_on() }} and {{ as_of_on() }} < end_on
),

grades as (
    select
        class_id,
        string_agg(grade_code, ';' order by sort_order) as grade_codes,
        count(*) > 1 as is_mixed_grade
    from class_grades
    group by class_id
),

people as (
    select
        class_id,
        count(distinct person_id) filter (where role = 'student') as pupil_count,
        count(distinct person_id) filter (where role = 'teacher') as teacher_count
    from memberships
    group by class_id
),

final as (
    select
        classes.class_id,
        classes.school_id,
        classes.title,
        coalesce(grades.grade_codes, 'UG') as grade_codes,
        coalesce(grades.is_mixed_grade, false) as is_mixed_grade,
        classes.session_pattern,
        cast(classes.school_year_ends as string) as school_year,
        coalesce(people.pupil_count, 0) as pupil_count,
        coalesce(people.teacher_count, 0) as teacher_count
    from classes
    left join grades on classes.class_id = grades.class_id
    left join people on classes.class_id = people.class_id
)

select * from final
