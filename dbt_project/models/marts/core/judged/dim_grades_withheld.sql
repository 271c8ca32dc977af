with class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
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

-- With a mixed class the grades overlap: grades, added up, minus the school gives its size, and the
-- school minus one grade gives a class of another. Harmless unless a class is small.
overlapping as (
    select
        school_id,
        bool_or(is_mixed_grade)
        and bool_or(pupil_count between 1 and {{ threshold('small_cell') }} - 1) as is_open
    from classes
    group by school_id
),

judged_alone as (
    select
        sized.*,
        coalesce(
            {{ small_group_reason('sized.pupil_count', 'sized.class_count') }},
            case when overlapping.is_open then 'complementary' end
        ) as own_reason
    from sized
    inner join overlapping on sized.school_id = overlapping.school_id
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
