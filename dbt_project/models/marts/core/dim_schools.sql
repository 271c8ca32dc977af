with schools as (
    select * from {{ ref('int_schools') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
    where begin_on <= {{ as_of_on() }} and {{ as_of_on() }} < end_on
),

counted as (
    select
        schools.school_id,
        schools.parent_id,
        schools.school_name,
        count(distinct classes.class_id) as class_count,
        count(distinct class_pupils.pupil_id) as pupil_count
    from schools
    left join classes on schools.school_id = classes.school_id
    left join class_pupils on classes.class_id = class_pupils.class_id
    group by schools.school_id, schools.parent_id, schools.school_name
)

select * from counted
