with slots as (
    select * from {{ ref('int_plan_slot_statuses') }}
),

final as (
    select
        slot_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        plan_id,
        plan_version,
        window_first_on,
        window_last_on,
        due_on,
        week_first_on,
        taught_on,
        lesson_kind,
        status,
        cancel_reason,
        lesson_id,
        cast(slot_number as bigint) as slot_number,
        round(cast(credit as double), 9) as credit,
        planned_minutes,
        pupils_present_count,
        enrolled_count
    from slots
)

select * from final
