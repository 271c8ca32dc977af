with plans as (
    select * from {{ ref('stg_supports__support_plans') }}
),

checks as (
    select * from {{ ref('int_support_checks') }}
    where class_id is not null
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

-- A week's planned sessions, shared out over the days on which the class is in school that week.
spread_days as (
    select
        class_id,
        day_on,
        is_elapsed,
        1.0 / count(*) over (partition by class_id, week_first_on) as week_share
    from class_days
),

expected as (
    select
        plans.support_id,
        plans.tier_code,
        class_pupils.class_id,
        spread_days.day_on,
        plans.sessions_per_week_count * spread_days.week_share as expected_count,
        0.0 as checked_count
    from plans
    inner join class_pupils on plans.pupil_id = class_pupils.pupil_id
    inner join spread_days
        on
            class_pupils.class_id = spread_days.class_id
            and plans.begin_on <= spread_days.day_on
            and plans.end_on > spread_days.day_on
            and class_pupils.begin_on <= spread_days.day_on
            and class_pupils.end_on > spread_days.day_on
            and spread_days.is_elapsed
    where coalesce(class_pupils.is_primary, true)
),

both_sides as (
    select * from expected
    union all
    select
        support_id,
        tier_code,
        class_id,
        checked_on as day_on,
        0.0 as expected_count,
        cast(planned_count as double) as checked_count
    from checks
),

-- Sessions that the checks speak of, up to those that the plan had; plan by plan, so that a second
-- check of one does not hide none of another.
of_plans as (
    select
        both_sides.support_id,
        both_sides.tier_code,
        both_sides.class_id,
        windows.term_id,
        windows.window_code,
        sum(both_sides.expected_count) as expected_count,
        least(sum(both_sides.checked_count), sum(both_sides.expected_count)) as checked_count
    from both_sides
    inner join windows
        on
            both_sides.class_id = windows.class_id
            and both_sides.day_on between windows.first_on and windows.last_on
    group by
        both_sides.support_id,
        both_sides.tier_code,
        both_sides.class_id,
        windows.term_id,
        windows.window_code
)

select * from of_plans
