with actions as (
    select * from {{ ref('fct_offer_actions') }}
),

-- Who wrote it down and the team's own note stay with the team.
shown as (
    select
        decision_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        decision_code,
        decided_on,
        follow_up_on,
        decision_number,
        is_last,
        measure_name,
        then_session_count,
        later_session_count,
        then_value,
        then_low,
        then_high,
        later_value,
        later_low,
        later_high,
        change_value,
        change_low,
        change_high,
        moved_code,
        standing_code,
        {{ lineage_columns() }}
    from actions
)

select * from shown
