with classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_grades as (
    select * from {{ ref('int_class_grades') }}
),

memberships as (
    select * from {{ ref('stg_roster__memberships') }}
    where begin_on < end_on
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
    where is_current_year
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
    where begin_on <= {{ as_of_on() }} and {{ as_of_on() }} < end_on
    group by class_id
),

years as (
    select
        school_id,
        max(school_year_ends) as school_year_ends,
        min(first_on) as first_on
    from terms
    group by school_id
),

last_days as (
    select
        class_id,
        max(end_on) filter (where begin_on <= {{ as_of_on() }}) as end_on
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
        coalesce(people.teacher_count, 0) as teacher_count,
        -- Without a year of its own: whether anybody was in it since the current year began, if it
        -- ever had anybody.
        coalesce(
            classes.school_year_ends = years.school_year_ends,
            last_days.end_on > coalesce(years.first_on, {{ as_of_on() }}),
            last_days.class_id is null
        ) as is_current
    from classes
    left join grades on classes.class_id = grades.class_id
    left join people on classes.class_id = people.class_id
    left join years on classes.school_id = years.school_id
    left join last_days on classes.class_id = last_days.class_id
)

select * from final
