with slots as (
    select * from {{ ref('int_plan_slot_statuses') }}
    where credit = 0 or pupils_present_count is not null
),

-- A lesson given whose pupils nobody counted says nothing either way and is left out.
parts as (
    select
        {{ share_part(
            'due_on',
            numerator="case when credit > 0 then least(pupils_present_count, enrolled_count)"
            ~ " else 0 end",
            numerator_high="case when credit > 0 then least(pupils_present_count, enrolled_count)"
            ~ " when status = 'not_logged' then enrolled_count else 0 end",
            denominator='enrolled_count',
            units='enrolled_count'
        ) }}
    from slots
)

select * from parts
