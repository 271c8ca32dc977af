with checks as (
    select * from {{ ref('int_support_checks') }}
    where class_id is not null and planned_count > absent_count
),

parts as (
    select
        {{ share_part(
            'checked_on',
            numerator='delivered_count',
            denominator='planned_count - absent_count',
            units='planned_count - absent_count',
            routine_id='cast(null as string)'
        ) }}
    from checks
)

select * from parts
