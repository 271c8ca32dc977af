with draws as (
    select * from {{ ref('int_draws') }}
    where is_offered and (is_by_lot or method in ('volunteer', 'teacher_choice'))
),

-- Turns of single children on one day, and those of volunteers.
parts as (
    {{ draw_day_parts(
        'draws',
        numerator="count(*) filter (where method = 'volunteer')",
        denominator="count(*)"
    ) }}
)

select * from parts
