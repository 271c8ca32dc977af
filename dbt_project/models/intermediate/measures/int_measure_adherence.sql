with sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

parts as (
    {{ parts_per_visit(
        'sessions',
        numerator='steps_done_count',
        denominator='(steps_done_count + steps_not_done_count)',
        is_thin='is_steps_thin'
    ) }}
)

select * from parts
