with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Names that came up by lot on one day, and those of children who could not be asked.
parts as (
    {{ draw_day_parts(
        'draws',
        numerator="count(*) filter (where outcome in ('absent', 'unavailable'))",
        denominator="count(*)"
    ) }}
)

select * from parts
