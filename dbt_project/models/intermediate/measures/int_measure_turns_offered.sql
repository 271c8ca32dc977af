with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Draws by lot of one day; their turns are the numerator.
parts as (
    {{ draw_day_parts(
        'draws',
        numerator="count(*) filter (where is_offered)",
        denominator="count(*)"
    ) }}
)

select * from parts
