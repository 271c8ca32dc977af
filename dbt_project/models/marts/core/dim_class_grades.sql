with class_grades as (
    select * from {{ ref('int_class_grades') }}
),

final as (
    select
        class_id,
        school_id,
        grade_code
    from class_grades
)

select * from final
