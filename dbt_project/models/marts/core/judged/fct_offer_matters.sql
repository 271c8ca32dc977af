with standing as (
    select * from {{ ref('fct_offer_standing') }}
    where is_planned
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

grade_counts as (
    select
        standing.school_id,
        standing.term_id,
        standing.review_on,
        max(standing.review_number) as review_number,
        max(standing.team_sees_from_on) as team_sees_from_on,
        'grade' as level_code,
        class_grades.grade_code,
        standing.routine_id,
        mode(case when standing.is_standing then standing.measure_name end) as measure_name,
        count(*) as class_count,
        count(*) filter (where standing.is_standing) as shown_class_count
    from standing
    inner join class_grades on standing.class_id = class_grades.class_id
    group by
        standing.school_id,
        standing.term_id,
        standing.review_on,
        class_grades.grade_code,
        standing.routine_id
),

school_counts as (
    select
        school_id,
        term_id,
        review_on,
        max(review_number) as review_number,
        max(team_sees_from_on) as team_sees_from_on,
        'school' as level_code,
        '*' as grade_code,
        routine_id,
        mode(case when is_standing then measure_name end) as measure_name,
        count(*) as class_count,
        count(*) filter (where is_standing) as shown_class_count
    from standing
    group by school_id, term_id, review_on, routine_id
),

school_matters as (
    select *
    from school_counts
    where
        class_count >= {{ threshold('grade_matter_classes') }}
        and shown_class_count >= {{ threshold('school_matter_share') }} * class_count
        and shown_class_count > 0
),

-- What is a matter of the whole school is not said again of a grade.
grade_matters as (
    select grade_counts.*
    from grade_counts
    left join school_matters
        on
            grade_counts.school_id = school_matters.school_id
            and grade_counts.review_on = school_matters.review_on
            and grade_counts.routine_id = school_matters.routine_id
    where
        school_matters.routine_id is null
        and grade_counts.class_count >= {{ threshold('grade_matter_classes') }}
        and grade_counts.shown_class_count
        >= {{ threshold('grade_matter_share') }} * grade_counts.class_count
        and grade_counts.shown_class_count > 0
),

together as (
    select * from school_matters
    union all
    select * from grade_matters
)

select * from together
