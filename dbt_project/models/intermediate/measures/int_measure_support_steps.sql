with checks as (
    select * from {{ ref('int_support_checks') }}
    where class_id is not null and steps_applicable_count > 0 and steps_done_count is not null
),

parts as (
    select
        {{ share_part(
            'checked_on',
            numerator='steps_done_count',
            denominator='steps_applicable_count',
            units='steps_applicable_count',
            routine_id='cast(null as string)'
        ) }}
    from checks
)

select * from parts
