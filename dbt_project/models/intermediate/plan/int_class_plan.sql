with plan_rows as (
    select * from {{ ref('stg_definitions__plan_rows') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_grades as (
    select * from {{ ref('int_class_grades') }}
),

-- The newest version of a line is the one that counts.
live as (
    select *
    from plan_rows
    qualify row_number() over (partition by plan_id order by plan_version desc) = 1
),

-- 0 = made for the class; 1 and up = made for one of its grades, youngest first.
offered as (
    select
        live.*,
        classes.class_id as of_class_id,
        classes.school_id as of_school_id,
        0 as source_rank
    from live
    inner join classes on live.class_id = classes.class_id
    union all
    select
        live.*,
        class_grades.class_id as of_class_id,
        class_grades.school_id as of_school_id,
        class_grades.sort_order + 1 as source_rank
    from live
    inner join class_grades
        on
            live.school_id = class_grades.school_id
            and live.grade_code = class_grades.grade_code
    where live.class_id is null
),

-- For the same days, routine and kind a grade's line gives way to the class's own; of the lines of
-- two grades of a mixed class the larger number applies, the younger grade's of two alike.
overruled as (
    select distinct
        weaker.plan_id,
        weaker.of_class_id
    from offered as weaker
    inner join offered as stronger
        on
            weaker.of_class_id = stronger.of_class_id
            and weaker.routine_id = stronger.routine_id
            and weaker.lesson_kind = stronger.lesson_kind
            and weaker.source_rank > 0
            and (
                stronger.source_rank = 0
                or weaker.planned_lesson_count < stronger.planned_lesson_count
                or (
                    weaker.planned_lesson_count = stronger.planned_lesson_count
                    and weaker.source_rank > stronger.source_rank
                )
            )
            and weaker.window_last_on >= stronger.window_first_on
            and weaker.window_first_on <= stronger.window_last_on
),

class_plan as (
    select
        offered.plan_id,
        offered.plan_version,
        offered.of_school_id as school_id,
        offered.of_class_id as class_id,
        offered.routine_id,
        offered.lesson_kind,
        offered.window_first_on,
        offered.window_last_on,
        offered.planned_lesson_count,
        offered.planned_minutes
    from offered
    left join overruled
        on offered.plan_id = overruled.plan_id and offered.of_class_id = overruled.of_class_id
    where overruled.plan_id is null
)

select * from class_plan
