with signs as (
    select * from {{ ref('fct_offer_signs') }}
    where is_planned
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

grade_counts as (
    select
        signs.school_id,
        signs.term_id,
        'grade' as level_code,
        class_grades.grade_code,
        signs.routine_id,
        count(*) as class_count,
        count(*) filter (where signs.shows_it) as shown_class_count
    from signs
    inner join class_grades on signs.class_id = class_grades.class_id
    group by signs.school_id, signs.term_id, class_grades.grade_code, signs.routine_id
),

school_counts as (
    select
        school_id,
        term_id,
        'school' as level_code,
        '*' as grade_code,
        routine_id,
        count(*) as class_count,
        count(*) filter (where shows_it) as shown_class_count
    from signs
    group by school_id, term_id, routine_id
),

leads as (
    select
        school_id,
        routine_id,
        mode(measure_name) as measure_name
    from signs
    where shows_it
    group by school_id, routine_id
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
),

shown as (
    select
        together.*,
        leads.measure_name
    from together
    inner join leads
        on
            together.school_id = leads.school_id
            and together.routine_id = leads.routine_id
)

select * from shown
