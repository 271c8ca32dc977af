with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='voice_bias_sum',
        denominator='voice_count'
    ) }}
)

select * from parts
