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
        cast(sum(row_count) as bigint) as timed_count,
        cast(sum(late_count) as bigint) as late_count
    from feed_days
    group by feed
),

received as (
    select
        coalesce(feed, 'unknown') as feed,
        count(*) as file_count,
        cast(sum(received_count) as bigint) as received_count,
        cast(sum(accepted_count) as bigint) as accepted_count,
        cast(sum(known_count) as bigint) as known_count,
        cast(sum(quarantined_count) as bigint) as quarantined_count,
        cast(sum(refused_count) as bigint) as refused_count,
        cast(sum(warning_count) as bigint) as warning_count,
        max(cast(received_at as date)) as last_received_on,
        bool_and(
            received_count = accepted_count + known_count + quarantined_count + refused_count
        ) as is_balanced
    from files
    group by coalesce(feed, 'unknown')
),

shown as (
    select
        {{ ledger_school() }} as school_id,
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
