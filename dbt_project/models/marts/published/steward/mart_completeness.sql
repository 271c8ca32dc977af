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

classes as (
    select * from {{ ref('dim_classes') }}
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
),

last_events as (
    select
        school_days.class_id,
        school_days.term_id,
        feed_days.feed,
        max(feed_days.event_on) as last_event_on
    from school_days
    inner join feed_days
        on
            school_days.class_id = feed_days.class_id
            and school_days.day_on = feed_days.event_on
    group by school_days.class_id, school_days.term_id, feed_days.feed
),

with_last_event as (
    select
        together.*,
        last_events.last_event_on
    from together
    left join last_events
        on
            together.class_id = last_events.class_id
            and together.term_id = last_events.term_id
            and together.feed = last_events.feed
),

silences as (
    select
        with_last_event.class_id,
        with_last_event.term_id,
        with_last_event.feed,
        count(school_days.day_on) as silent_days
    from with_last_event
    left join school_days
        on
            with_last_event.class_id = school_days.class_id
            and with_last_event.term_id = school_days.term_id
            and (
                with_last_event.last_event_on is null
                or with_last_event.last_event_on < school_days.day_on
            )
    group by with_last_event.class_id, with_last_event.term_id, with_last_event.feed
),

shown as (
    select
        classes.school_id,
        classes.class_id,
        classes.title as class_title,
        with_last_event.term_id,
        with_last_event.feed,
        cast(with_last_event.expected_count as double) as expected_count,
        cast(with_last_event.seen_count as double) as seen_count,
        cast(with_last_event.expected_count - with_last_event.seen_count as double)
            as missing_count,
        round(
            with_last_event.seen_count
            / nullif(cast(with_last_event.expected_count as double), 0),
            9
        ) as completeness_rate,
        with_last_event.last_event_on,
        silences.silent_days,
        {{ lineage_columns() }}
    from with_last_event
    inner join classes on with_last_event.class_id = classes.class_id
    inner join silences
        on
            with_last_event.class_id = silences.class_id
            and with_last_event.term_id = silences.term_id
            and with_last_event.feed = silences.feed
)

select * from shown
