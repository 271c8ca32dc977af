with slots as (
    select * from {{ ref('int_plan_slot_statuses') }}
),

parts as (
    select
        {{ share_part(
            'due_on',
            numerator="case when status = 'not_logged' then 0 else 1 end",
            denominator='1'
        ) }}
    from slots
)

select * from parts
