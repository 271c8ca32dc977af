with lessons as (
    select * from {{ ref('int_lessons') }}
),

final as (
    select
        lesson_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        taught_on,
        week_first_on,
        entered_at,
        lesson_kind,
        mode,
        setting,
        practised_in,
        taught_by,
        status,
        cancel_reason,
        is_substitute,
        is_backfilled,
        is_late,
        cast(deliverer_count as bigint) as deliverer_count,
        pupils_present_count,
        enrolled_count,
        steps_done_count,
        step_count,
        cast(entry_delay_days as bigint) as entry_delay_days,
        round(cast(delivered_share as double), 9) as delivered_share,
        minutes
    from lessons
)

select * from final
