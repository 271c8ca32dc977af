with lessons as (
    select * from {{ ref('int_lessons') }}
),

draws as (
    select * from {{ ref('int_draws') }}
),

sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

checks as (
    select * from {{ ref('int_support_checks') }}
    where class_id is not null
),

coaching as (
    select * from {{ ref('int_coaching_events') }}
),

decisions as (
    select * from {{ ref('int_offer_decisions') }}
),

feed_days as (
    select
        school_id,
        class_id,
        'routine_lessons' as feed,
        taught_on as event_on,
        count(*) as row_count,
        count(*) filter (where is_backfilled) as late_count
    from lessons
    group by school_id, class_id, taught_on
    union all
    select
        school_id,
        class_id,
        'participation_draws' as feed,
        drawn_on as event_on,
        count(*) as row_count,
        count(*) filter (where {{ local_date('entered_at') }} > drawn_on) as late_count
    from draws
    group by school_id, class_id, drawn_on
    union all
    select
        school_id,
        class_id,
        'observation_sessions' as feed,
        observed_on as event_on,
        count(*) as row_count,
        0 as late_count
    from sessions
    group by school_id, class_id, observed_on
    union all
    select
        school_id,
        class_id,
        'support_checks' as feed,
        checked_on as event_on,
        count(*) as row_count,
        0 as late_count
    from checks
    group by school_id, class_id, checked_on
    union all
    select
        school_id,
        class_id,
        'coaching_events' as feed,
        event_on,
        count(*) as row_count,
        0 as late_count
    from coaching
    group by school_id, class_id, event_on
    union all
    select
        school_id,
        class_id,
        'offer_decisions' as feed,
        decided_on as event_on,
        count(*) as row_count,
        0 as late_count
    from decisions
    group by school_id, class_id, decided_on
)

select * from feed_days
