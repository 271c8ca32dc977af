with class_days as (
    select * from {{ ref('int_class_days') }}
),

final as (
    select
        school_id,
        class_id,
        term_id,
        day_on,
        week_first_on,
        label,
        day_kind,
        is_in_session,
        is_emergency_closed,
        is_elapsed,
        instructional_day_number,
        cast(day_fraction as double) as day_fraction
    from class_days
)

select * from final
