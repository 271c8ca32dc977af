with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Turns by lot of one day that were offered, and those of them taken.
parts as (
    {{ draw_day_parts(
        'draws',
        numerator="count(*) filter (where is_taken)",
        denominator="count(*) filter (where is_offered)"
    ) }}
)

select * from parts
