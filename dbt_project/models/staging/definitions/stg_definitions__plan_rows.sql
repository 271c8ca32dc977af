with source as (
    select * from {{ source('latest', 'teaching_plan') }}
),

renamed as (
    select
        plan_id,
        school_id,
        class_id,
        routine_id,

        window_first_on,
        window_last_on,

        grade as grade_code,
        lesson_kind,

        plan_version,
        planned_lessons as planned_lesson_count,
        planned_minutes_each as planned_minutes,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
