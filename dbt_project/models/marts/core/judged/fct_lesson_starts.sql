with lessons as (
    select * from {{ ref('stg_classroom__lessons') }}
),

started as (
    select
        lesson_id,
        substr(started_at_local, 1, 5) as started_at_local,
        note
    from lessons
)

select * from started
