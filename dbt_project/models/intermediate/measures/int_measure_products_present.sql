with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='products_present_count',
        denominator='products_count'
    ) }}
)

select * from parts
