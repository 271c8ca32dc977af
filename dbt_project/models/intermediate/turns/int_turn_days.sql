with draws as (
    select * from {{ ref('int_draws') }}
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

-- Days on which this class drew by lot, with the number of turns that went out.
draw_days as (
    select
        school_id,
        class_id,
        drawn_on,
        term_id,
        count(*) filter (where is_offered) as turn_count
    from draws
    where is_by_lot
    group by school_id, class_id, drawn_on, term_id
),

-- What each pupil had that day; logged absent and never offered a turn = not there.
pupil_days as (
    select
        class_id,
        pupil_id,
        drawn_on,
        count(*) filter (where is_by_lot and is_offered) as offered_count,
        count(*) filter (where is_by_lot and is_taken) as taken_count,
        bool_or(outcome in ('absent', 'unavailable')) and not bool_or(is_offered) as is_away
    from draws
    where pupil_id is not null
    group by class_id, pupil_id, drawn_on
),

members as (
    select
        draw_days.school_id,
        draw_days.class_id,
        draw_days.drawn_on,
        draw_days.term_id,
        draw_days.turn_count,
        class_pupils.pupil_id,
        bool_or(class_pupils.is_draw_eligible) as is_draw_eligible
    from draw_days
    inner join class_pupils
        on
            draw_days.class_id = class_pupils.class_id
            and draw_days.drawn_on >= class_pupils.begin_on
            and draw_days.drawn_on < class_pupils.end_on
    group by
        draw_days.school_id,
        draw_days.class_id,
        draw_days.drawn_on,
        draw_days.term_id,
        draw_days.turn_count,
        class_pupils.pupil_id
),

attended as (
    select
        members.*,
        coalesce(pupil_days.is_away, false) as is_away,
        coalesce(pupil_days.offered_count, 0) as offered_count,
        coalesce(pupil_days.taken_count, 0) as taken_count,
        members.is_draw_eligible and not coalesce(pupil_days.is_away, false) as is_eligible
    from members
    left join pupil_days
        on
            members.class_id = pupil_days.class_id
            and members.pupil_id = pupil_days.pupil_id
            and members.drawn_on = pupil_days.drawn_on
),

turn_days as (
    select
        *,
        count(*) filter (where is_eligible) over (
            partition by class_id, drawn_on
        ) as eligible_count
    from attended
)

select * from turn_days
