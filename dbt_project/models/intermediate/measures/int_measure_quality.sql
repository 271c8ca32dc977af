with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='ratings_sum',
        denominator='(3.0 * ratings_count)',
        units='ratings_count'
    ) }}
)

select * from parts
