with visits as (
    select * from {{ ref('stg_classroom__observation_sessions') }}
),

parted as (
    select
        observation_id,
        case
            when started_at_local < '11:00' then 'morning'
            when started_at_local < '13:00' then 'midday'
            when started_at_local is not null then 'afternoon'
        end as time_of_day_code
    from visits
)

select * from parted
