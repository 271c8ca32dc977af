with ratings as (
    select * from {{ ref('stg_classroom__observation_rows') }}
    where row_type = 'rating' and value is not null
),

sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

-- Two observers of a pair are one visit: each of their ratings counts for a half.
weighed as (
    select
        sessions.school_id,
        sessions.class_id,
        sessions.visit_id,
        sessions.routine_id,
        sessions.observed_on,
        sessions.is_substitute,
        ratings.code as rating_code,
        ratings.value as rating,
        1.0 / count(*) over (
            partition by sessions.class_id, sessions.visit_id, ratings.code, ratings.row_number
        ) as weight
    from ratings
    inner join sessions on ratings.observation_id = sessions.observation_id
)

select * from weighed
