with pupil_cycles as (
    select * from {{ ref('int_cycles') }}
    where is_closed
),

-- A closed cycle is complete when every card that should have come up did.
cycles as (
    select
        school_id,
        class_id,
        school_year_ends,
        cycle_key,
        max(last_on) as last_on,
        min(case when drawn_count > 0 then 1 else 0 end) as is_complete,
        count(*) as pupil_count
    from pupil_cycles
    group by school_id, class_id, school_year_ends, cycle_key
),

parts as (
    select
        {{ share_part(
            'last_on',
            numerator='is_complete',
            denominator='1',
            units='pupil_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from cycles
)

select * from parts
