with checks as (
    select * from {{ ref('int_support_checks') }}
),

final as (
    select
        check_id,
        support_id,
        school_id,
        class_id,
        pupil_id,
        term_id,
        checked_on,
        week_first_on,
        tier_code,
        support_kind,
        not_delivered_reason,
        is_within_plan,
        planned_count,
        cast(absent_count as bigint) as absent_count,
        delivered_count,
        steps_done_count,
        steps_applicable_count,
        minutes_delivered
    from checks
)

select * from final
