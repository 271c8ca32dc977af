with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot
),

-- Names that came up by lot on one day, and those of children who could not be asked.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) filter (where outcome in ('absent', 'unavailable')) as part_count,
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
