with class_days as (
    select * from {{ ref('int_class_days') }}
    where is_elapsed
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

enrolled as (
    select
        class_days.class_id,
        class_days.day_on,
        count(distinct class_pupils.pupil_id) as enrolled_count
    from class_days
    left join class_pupils
        on
            class_days.class_id = class_pupils.class_id
            and class_days.day_on >= class_pupils.begin_on
            and class_days.day_on < class_pupils.end_on
    group by class_days.class_id, class_days.day_on
)

select * from enrolled
