with family_weeks as (
    select * from {{ ref('int_family_weeks') }}
    where event_on is not null and enrolled_count > 0
),

-- Of the children of the class, how many had a family that was asked.
parts as (
    select
        {{ share_part(
            'event_on',
            numerator='least(families_asked_count, enrolled_count)',
            denominator='enrolled_count',
            units='enrolled_count',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from family_weeks
)

select * from parts
