with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

grades as (
    select * from {{ ref('dim_grades_withheld') }}
),

-- The totals that a reader can subtract from: each shown grade, and what the shown grades leave of
-- the school. A class counts in one of them; where a mixed class makes them overlap and a class is
-- small, no grade is shown and the school is the only total.
totalled as (
    select
        classes.class_id,
        coalesce(
            min(class_grades.grade_code) filter (
                where grades.grade_code is not null and grades.reason is null
            ),
            '*'
        ) as total_code
    from classes
    left join class_grades on classes.class_id = class_grades.class_id
    left join grades
        on
            class_grades.school_id = grades.school_id
            and class_grades.grade_code = grades.grade_code
    group by classes.class_id
),

judged_alone as (
    select
        classes.school_id,
        classes.class_id,
        totalled.total_code,
        classes.pupil_count,
        case
            when classes.pupil_count < {{ threshold('small_cell') }} then 'small_cell'
        end as own_reason
    from classes
    inner join totalled on classes.class_id = totalled.class_id
),

judged_together as (
    select
        school_id,
        class_id,
        total_code,
        pupil_count,
        {{ withheld_reason(
            'own_reason',
            ['school_id', 'total_code'],
            [['pupil_count', threshold('small_cell')]],
            'class_id',
            hidden=['pupil_count', threshold('small_cell')]
        ) }} as reason
    from judged_alone
)

select * from judged_together
