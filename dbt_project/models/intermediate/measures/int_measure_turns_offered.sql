with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Draws by lot of one day; their turns are the numerator.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) filter (where is_offered) as turn_count,
        count(*) as base_count
    from draws
    group by school_id, class_id, drawn_on
),

parts as (
    select
        {{ share_part(
            'drawn_on',
            numerator='turn_count',
            denominator='base_count',
            units='base_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from days
)

select * from parts
