with slots as (
    select * from {{ ref('fct_plan_slots') }}
),

feed_days as (
    select * from {{ ref('fct_feed_days') }}
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted
),

day_counts as (
    select
        class_id,
        term_id,
        count(*) as day_count
    from school_days
    where term_id is not null
    group by class_id, term_id
),

lessons as (
    select
        class_id,
        term_id,
        'routine_lessons' as feed,
        count(*) as expected_count,
        count(*) filter (where status != 'not_logged') as seen_count
    from slots
    group by class_id, term_id
),

draws as (
    select
        day_counts.class_id,
        day_counts.term_id,
        'participation_draws' as feed,
        day_counts.day_count as expected_count,
        count(feed_days.event_on) as seen_count
    from day_counts
    left join school_days
        on
            day_counts.class_id = school_days.class_id
            and day_counts.term_id = school_days.term_id
    left join feed_days
        on
            school_days.class_id = feed_days.class_id
            and school_days.day_on = feed_days.event_on
            and feed_days.feed = 'participation_draws'
    group by day_counts.class_id, day_counts.term_id, day_counts.day_count
),

looks as (
    select
        day_counts.class_id,
        day_counts.term_id,
        'observation_sessions' as feed,
        {{ threshold('min_sessions') }} as expected_count,
        least(count(distinct visits.visit_id), {{ threshold('min_sessions') }}) as seen_count
    from day_counts
    left join visits
        on
            day_counts.class_id = visits.class_id
            and day_counts.term_id = visits.term_id
    group by day_counts.class_id, day_counts.term_id
),

together as (
    select * from lessons
    where term_id is not null
    union all
    select * from draws
    union all
    select * from looks
)

select * from together
