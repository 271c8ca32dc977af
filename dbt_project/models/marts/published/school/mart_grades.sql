with withheld as (
    select * from {{ ref('dim_grades_withheld') }}
),

grades as (
    select * from {{ ref('dim_grades') }}
),

shown as (
    select
        withheld.school_id,
        withheld.grade_code,
        grades.grade_name as name,
        cast(grades.sort_order as bigint) as sort_order,
        cast(withheld.class_count as bigint) as class_count,
        case when withheld.reason is null then cast(withheld.pupil_count as bigint) end
            as pupil_count,
        {{ withheld_columns('withheld.reason') }}
    from withheld
    inner join grades on withheld.grade_code = grades.grade_code
)

select * from shown
