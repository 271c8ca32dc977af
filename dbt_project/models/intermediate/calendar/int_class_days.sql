with day_kinds as (
    select * from {{ ref('seed_day_kinds') }}
),

resolved as (
    select * from {{ ref('int_class_day_kinds') }}
),

open_days as (
    select
        resolved.*,
        day_kinds.day_fraction as school_fraction,
        case resolved.session_pattern
            when 'am' then day_kinds.is_in_session_am
            when 'pm' then day_kinds.is_in_session_pm
            else day_kinds.is_in_session_am or day_kinds.is_in_session_pm
        end as is_open
    from resolved
    inner join day_kinds on resolved.day_kind = day_kinds.day_kind
),

-- A group that comes on alternate days is in on the days named for it; with none named, on all.
alternating as (
    select
        *,
        is_open and (
            session_pattern != 'alternate'
            or is_named
            or not bool_or(is_named and is_open) over (
                partition by class_id, school_year_ends
            )
        ) as is_in_session
    from open_days
),

class_days as (
    select
        school_id,
        class_id,
        term_id,
        school_year_ends,
        day_on,
        week_first_on,
        label,
        day_kind,
        is_in_session,
        not is_in_session and day_kind = 'closed_emergency' as is_emergency_closed,
        day_on <= {{ as_of_on() }} as is_elapsed,
        case
            when is_in_session then row_number() over (
                partition by class_id, school_year_ends, is_in_session order by day_on
            )
        end as instructional_day_number,
        case
            when not is_in_session then 0.0
            when session_pattern in ('am', 'pm') then 1.0
            else school_fraction
        end as day_fraction
    from alternating
    where is_weekday or is_in_session
)

select * from class_days
