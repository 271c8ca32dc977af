with feeds as (
    select * from {{ ref('fct_feed_ledger') }}
),

shown as (
    select
        school_id,
        feed,
        file_count,
        cast(received_count as bigint) as received_count,
        cast(accepted_count as bigint) as accepted_count,
        cast(known_count as bigint) as known_count,
        cast(quarantined_count as bigint) as quarantined_count,
        cast(refused_count as bigint) as refused_count,
        cast(warning_count as bigint) as warning_count,
        held_count,
        last_received_on,
        last_event_on,
        cast(late_count as bigint) as late_count,
        cast(timed_count as bigint) as timed_count,
        round(late_count / nullif(cast(timed_count as double), 0), 9) as late_rate,
        is_balanced,
        {{ lineage_columns() }}
    from feeds
)

select * from shown
