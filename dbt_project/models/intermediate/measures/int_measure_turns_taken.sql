with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Turns by lot of one day that were offered, and those of them taken.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) filter (where is_taken) as turn_count,
        count(*) filter (where is_offered) as base_count
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
