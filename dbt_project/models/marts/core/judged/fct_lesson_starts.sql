with starts as (
    select * from {{ ref('int_lesson_starts') }}
),

kept as (
    select
        lesson_id,
        started_at_local,
        note
    from starts
)

select * from kept
