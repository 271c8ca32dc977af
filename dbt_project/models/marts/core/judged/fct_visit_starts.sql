with starts as (
    select * from {{ ref('int_visit_starts') }}
),

kept as (
    select
        observation_id,
        time_of_day_code
    from starts
)

select * from kept
