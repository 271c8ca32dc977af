with grades as (
    select * from {{ ref('seed_grades') }}
)

select * from grades
