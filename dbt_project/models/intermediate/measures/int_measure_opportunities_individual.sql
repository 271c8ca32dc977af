with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where event_count > 0
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='opportunities_individual_count',
        denominator='minutes_instruction',
        units='opportunities_individual_count'
    ) }}
)

select * from parts
