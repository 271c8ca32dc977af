with turn_days as (
    select * from {{ ref('int_turn_days') }}
    where is_eligible
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

windowed as (
    select
        windows.window_code,
        windows.term_id as window_term_id,
        turn_days.*,
        count(*) filter (where turn_days.offered_count > 0) over (
            partition by
                windows.window_code, windows.term_id, turn_days.class_id,
                turn_days.pupil_id
            order by turn_days.drawn_on
        ) as turn_days_so_far
    from turn_days
    inner join windows
        on
            turn_days.class_id = windows.class_id
            and turn_days.drawn_on between windows.first_on and windows.last_on
),

-- Draw days without a turn between one turn and the next; the last gap is still open.
gaps as (
    select
        window_code,
        window_term_id,
        class_id,
        pupil_id,
        turn_days_so_far,
        count(*) filter (where offered_count = 0) as wait_days
    from windowed
    group by window_code, window_term_id, class_id, pupil_id, turn_days_so_far
),

waits as (
    select
        window_code,
        window_term_id,
        class_id,
        pupil_id,
        max(wait_days) as longest_wait_days,
        max_by(wait_days, turn_days_so_far) as open_wait_days
    from gaps
    group by window_code, window_term_id, class_id, pupil_id
),

summed as (
    select
        window_code,
        window_term_id,
        school_id,
        class_id,
        pupil_id,
        max(drawn_on) filter (where offered_count > 0) as last_turn_on,
        count(*) as draw_day_count,
        sum(offered_count) as offered_count,
        sum(taken_count) as taken_count,
        sum(turn_count) as present_draw_count,
        sum(turn_count * 1.0 / nullif(eligible_count, 0)) as expected_count
    from windowed
    group by window_code, window_term_id, school_id, class_id, pupil_id
),

turn_windows as (
    select
        summed.window_code,
        summed.window_term_id as term_id,
        summed.school_id,
        summed.class_id,
        summed.pupil_id,
        summed.last_turn_on,
        summed.draw_day_count,
        cast(summed.offered_count as bigint) as offered_count,
        cast(summed.taken_count as bigint) as taken_count,
        cast(summed.present_draw_count as bigint) as present_draw_count,
        waits.longest_wait_days,
        waits.open_wait_days,
        summed.expected_count
    from summed
    inner join waits
        on
            summed.window_code = waits.window_code
            and summed.window_term_id = waits.window_term_id
            and summed.class_id = waits.class_id
            and summed.pupil_id = waits.pupil_id
)

select * from turn_windows
