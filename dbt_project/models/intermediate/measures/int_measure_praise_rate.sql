with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where event_count > 0
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='praise_count',
        denominator='minutes_instruction',
        units='praise_count'
    ) }}
)

select * from parts
