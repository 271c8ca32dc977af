with windows as (
    select * from {{ ref('int_turn_windows') }}
    where window_code = 'term'
),

draws as (
    select * from {{ ref('int_draws') }}
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

class_windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code = 'term'
),

pupil_cycles as (
    select * from {{ ref('int_cycles') }}
),

-- Every pupil who was in the class in the term, drawn or not.
grid as (
    select
        class_windows.school_id,
        class_windows.class_id,
        class_windows.term_id,
        class_pupils.pupil_id,
        bool_or(
            class_pupils.begin_on <= {{ as_of_on() }}
            and {{ as_of_on() }} < class_pupils.end_on
        ) as is_member,
        bool_or(class_pupils.is_draw_eligible) as is_draw_eligible
    from class_windows
    inner join class_pupils
        on
            class_windows.class_id = class_pupils.class_id
            and class_windows.last_on >= class_pupils.begin_on
            and class_windows.first_on < class_pupils.end_on
    group by
        class_windows.school_id,
        class_windows.class_id,
        class_windows.term_id,
        class_pupils.pupil_id
),

apart as (
    select
        class_id,
        term_id,
        pupil_id,
        count(*) filter (where method = 'volunteer') as volunteer_count,
        count(*) filter (where method = 'teacher_choice') as teacher_choice_count
    from draws
    where is_offered and pupil_id is not null and term_id is not null
    group by class_id, term_id, pupil_id
),

-- The round that runs, and whom it has reached. Who was away on all its days is still to come.
running as (
    select * from pupil_cycles
    where not is_closed
    qualify school_year_ends = max(school_year_ends) over (partition by class_id)
),

running_classes as (
    select distinct class_id from running
),

reached as (
    select distinct
        class_id,
        pupil_id
    from running
    where turn_count > 0
),

final as (
    select
        grid.school_id,
        grid.class_id,
        grid.pupil_id,
        grid.term_id,
        windows.last_turn_on,
        grid.is_member,
        grid.is_draw_eligible,
        grid.is_member
        and grid.is_draw_eligible
        and running_classes.class_id is not null
        and reached.pupil_id is null as is_waiting,
        coalesce(windows.offered_count, 0) as offered_count,
        coalesce(windows.taken_count, 0) as taken_count,
        coalesce(apart.volunteer_count, 0) as volunteer_count,
        coalesce(apart.teacher_choice_count, 0) as teacher_choice_count,
        coalesce(windows.present_draw_count, 0) as present_draw_count,
        coalesce(windows.longest_wait_days, 0) as longest_wait_days,
        coalesce(windows.open_wait_days, 0) as open_wait_days,
        round(coalesce(windows.expected_count, 0.0), 9) as expected_count,
        round(windows.offered_count / nullif(windows.expected_count, 0.0), 9)
            as representation_ratio
    from grid
    left join windows
        on
            grid.class_id = windows.class_id
            and grid.term_id = windows.term_id
            and grid.pupil_id = windows.pupil_id
    left join apart
        on
            grid.class_id = apart.class_id
            and grid.term_id = apart.term_id
            and grid.pupil_id = apart.pupil_id
    left join running_classes on grid.class_id = running_classes.class_id
    left join reached
        on grid.class_id = reached.class_id and grid.pupil_id = reached.pupil_id
)

select * from final
