with draws as (
    select * from {{ ref('int_draws') }}
    where is_offered and (is_by_lot or method in ('volunteer', 'teacher_choice'))
),

-- Turns of single children on one day, and those by the choice of the teacher.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) filter (where method = 'teacher_choice') as part_count,
        count(*) as base_count
    from draws
    group by school_id, class_id, drawn_on
),

parts as (
    select
        {{ share_part(
            'drawn_on',
            numerator='part_count',
            denominator='base_count',
            units='base_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from days
)

select * from parts
