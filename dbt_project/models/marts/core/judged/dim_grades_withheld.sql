with class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
),

-- A mixed class counts whole in each of its grades: rosters say who is in a class, not whose grade
-- a child has. So grades may add up to more than the school.
sized as (
    select
        class_grades.school_id,
        class_grades.grade_code,
        count(*) as class_count,
        cast(sum(classes.pupil_count) as bigint) as pupil_count
    from class_grades
    inner join classes on class_grades.class_id = classes.class_id
    group by class_grades.school_id, class_grades.grade_code
),

judged_alone as (
    select
        school_id,
        grade_code,
        class_count,
        pupil_count,
        {{ small_group_reason('pupil_count', 'class_count') }} as own_reason
    from sized
),

judged_together as (
    select
        school_id,
        grade_code,
        class_count,
        pupil_count,
        {{ withheld_reason(
            'own_reason',
            ['school_id'],
            [['pupil_count', threshold('small_cell')], ['class_count', few_classes()]],
            'grade_code'
        ) }} as reason
    from judged_alone
)

select * from judged_together
