with together as (
    select * from {{ ref('fct_completeness') }}
),

feed_days as (
    select * from {{ ref('fct_feed_days') }}
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
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
