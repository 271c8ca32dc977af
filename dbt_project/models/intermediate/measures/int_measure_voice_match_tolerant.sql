with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='voice_tolerant_count',
        denominator='voice_count'
    ) }}
)

select * from parts
