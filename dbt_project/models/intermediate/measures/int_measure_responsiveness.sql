with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='(moments_expected_count + moments_accommodated_count)',
        denominator='(moments_expected_count + moments_accommodated_count'
        ~ ' + moments_not_expected_count)',
        is_thin='is_looks_thin'
    ) }}
)

select * from parts
