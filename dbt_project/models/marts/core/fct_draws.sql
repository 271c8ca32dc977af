with draws as (
    select * from {{ ref('int_draws') }}
),

turn_days as (
    select * from {{ ref('int_turn_days') }}
),

days as (
    select
        class_id,
        drawn_on,
        max(eligible_count) as eligible_count
    from turn_days
    group by class_id, drawn_on
),

away as (
    select
        class_id,
        drawn_on,
        pupil_id
    from turn_days
    where is_away
),

final as (
    select
        draws.draw_id,
        draws.school_id,
        draws.class_id,
        draws.pupil_id,
        draws.term_id,
        draws.drawn_on,
        draws.week_first_on,
        draws.entered_at,
        draws.method,
        draws.outcome,
        draws.context,
        draws.is_offered,
        draws.is_taken,
        draws.is_by_lot,
        draws.is_member,
        away.pupil_id is not null as is_draw_day_absent,
        draws.sequence_number,
        draws.cycle_number,
        draws.cycle_key,
        draws.eligible_count,
        coalesce(days.eligible_count, 0) as eligible_pupil_count,
        draws.wait_seconds
    from draws
    left join days on draws.class_id = days.class_id and draws.drawn_on = days.drawn_on
    left join away
        on
            draws.class_id = away.class_id
            and draws.drawn_on = away.drawn_on
            and draws.pupil_id = away.pupil_id
)

select * from final
