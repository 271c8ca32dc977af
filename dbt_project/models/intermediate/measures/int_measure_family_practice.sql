with family_weeks as (
    select * from {{ ref('int_family_weeks') }}
    where event_on is not null and families_asked_count > 0
),

parts as (
    select
        {{ share_part(
            'event_on',
            numerator='families_reported_count',
            denominator='families_asked_count',
            units='families_asked_count'
        ) }}
    from family_weeks
)

select * from parts
