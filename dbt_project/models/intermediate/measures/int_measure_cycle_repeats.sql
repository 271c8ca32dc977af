with draws as (
    select * from {{ ref('int_draws') }}
    where cycle_key is not null and is_offered
),

numbered as (
    select
        school_id,
        class_id,
        drawn_on,
        row_number() over (
            partition by class_id, cycle_key, pupil_id
            order by drawn_on, sequence_number, draw_id
        ) as turn_number
    from draws
),

-- Turns of one day, and those of children who already had one in the same cycle.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) filter (where turn_number > 1) as repeat_count,
        count(*) as turn_count
    from numbered
    group by school_id, class_id, drawn_on
),

parts as (
    select
        {{ share_part(
            'drawn_on',
            numerator='repeat_count',
            denominator='turn_count',
            units='turn_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from days
)

select * from parts
