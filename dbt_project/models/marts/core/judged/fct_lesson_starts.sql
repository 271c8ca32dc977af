with starts as (
    select * from {{ ref('int_lesson_starts') }}
)

select * from starts
