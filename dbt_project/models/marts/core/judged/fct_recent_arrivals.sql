with classes as (
    select * from {{ ref('dim_classes') }}
),

breaks as (
    select * from {{ ref('dim_breaks') }}
    where last_on < {{ as_of_on() }}
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'student' and is_member
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

day_places as (
    select
        class_id,
        day_on,
        row_number() over (
            partition by class_id
            order by day_on desc
        ) as days_back
    from school_days
),

-- What happened in the last so many days in session: a return from a break, a child who joined.
recent as (
    select
        class_id,
        min(day_on) as recent_from_on
    from day_places
    where days_back <= {{ threshold('last_days') }}
    group by class_id
),

returns as (
    select
        recent.class_id,
        max(breaks.last_on) as break_last_on
    from recent
    inner join classes on recent.class_id = classes.class_id
    inner join breaks
        on
            classes.school_id = breaks.school_id
            and recent.recent_from_on <= breaks.last_on
    group by recent.class_id
),

arrivals as (
    select
        recent.class_id,
        max(memberships.begin_on) as newest_begin_on
    from recent
    inner join memberships
        on
            recent.class_id = memberships.class_id
            and recent.recent_from_on <= memberships.begin_on
    group by recent.class_id
),

together as (
    select
        recent.class_id,
        returns.break_last_on,
        arrivals.newest_begin_on
    from recent
    left join returns on recent.class_id = returns.class_id
    left join arrivals on recent.class_id = arrivals.class_id
)

select * from together
