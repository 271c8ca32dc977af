with class_days as (
    select * from {{ ref('int_class_days') }}
),

spans as (
    select
        class_id,
        {{ each_day('min(day_on)', 'max(day_on)') }} as day_on
    from class_days
    group by class_id
),

-- School days of the class up to each calendar day, weekends and breaks included, so that the
-- school days between two instants are one subtraction.
counted as (
    select
        spans.class_id,
        spans.day_on,
        count(*) filter (where class_days.is_in_session) over (
            partition by spans.class_id order by spans.day_on
        ) as school_days_so_far
    from spans
    left join class_days
        on spans.class_id = class_days.class_id and spans.day_on = class_days.day_on
)

select * from counted
