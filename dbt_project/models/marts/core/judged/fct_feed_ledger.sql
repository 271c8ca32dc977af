with files as (
    select * from {{ ref('fct_files') }}
),

quarantine as (
    select * from {{ ref('fct_quarantine') }}
),

feed_days as (
    select * from {{ ref('fct_feed_days') }}
),

held as (
    select
        feed,
        count(*) filter (where status = 'held') as held_count
    from quarantine
    group by feed
),

-- Class feeds only; a roster or a plan has no day of its own.
events as (
    select
        feed,
        max(event_on) as last_event_on,
        sum(row_count) as timed_count,
        sum(late_count) as late_count
    from feed_days
    group by feed
),

received as (
    select
        coalesce(feed, 'unknown') as feed,
        count(*) as file_count,
        sum(received_count) as received_count,
        sum(accepted_count) as accepted_count,
        sum(known_count) as known_count,
        sum(quarantined_count) as quarantined_count,
        sum(refused_count) as refused_count,
        sum(warning_count) as warning_count,
        max(cast(received_at as date)) as last_received_on,
        bool_and(
            received_count = accepted_count + known_count + quarantined_count + refused_count
        ) as is_balanced
    from files
    group by coalesce(feed, 'unknown')
),

shown as (
    select
        '{{ var("school_id") }}' as school_id,
        received.feed,
        received.file_count,
        received.received_count,
        received.accepted_count,
        received.known_count,
        received.quarantined_count,
        received.refused_count,
        received.warning_count,
        coalesce(held.held_count, 0) as held_count,
        received.last_received_on,
        events.last_event_on,
        events.late_count,
        events.timed_count,
        received.is_balanced
    from received
    left join held on received.feed = held.feed
    left join events on received.feed = events.feed
)

select * from shown
