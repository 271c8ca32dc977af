with classes as (
    select * from {{ ref('stg_roster__classes') }}
),

grades as (
    select * from {{ ref('seed_grades') }}
),

parts as (
    select
        class_id,
        school_id,
        {{ each_part('grade_codes') }} as grade_code
    from classes
),

class_grades as (
    select distinct
        parts.class_id,
        parts.school_id,
        trim(parts.grade_code) as grade_code,
        grades.sort_order
    from parts
    inner join grades on trim(parts.grade_code) = grades.grade_code
)

select * from class_grades
