with feeds as (
    select * from {{ ref('fct_feed_ledger') }}
),

supported as (
    select min(coalesce(supported_count, 0)) as supported_count
    from {{ ref('dim_tiers_withheld') }}
),

-- A row of these two feeds is a child's plan, or a look at it: where the children with one are too
-- few to be told, so are the rows.
judged as (
    select
        feeds.*,
        feeds.feed in ('support_plans', 'support_checks')
        and coalesce(supported.supported_count, 0) < {{ threshold('small_cell') }} as is_few
    from feeds
    cross join supported
),

shown as (
    select
        school_id,
        feed,
        file_count,
        case when not is_few then cast(received_count as bigint) end as received_count,
        case when not is_few then cast(accepted_count as bigint) end as accepted_count,
        case when not is_few then cast(known_count as bigint) end as known_count,
        case when not is_few then cast(quarantined_count as bigint) end as quarantined_count,
        case when not is_few then cast(refused_count as bigint) end as refused_count,
        case when not is_few then cast(warning_count as bigint) end as warning_count,
        case when not is_few then held_count end as held_count,
        last_received_on,
        last_event_on,
        case when not is_few then cast(late_count as bigint) end as late_count,
        case when not is_few then cast(timed_count as bigint) end as timed_count,
        case when not is_few then round(late_count / nullif(cast(timed_count as double), 0), 9) end
            as late_rate,
        is_balanced,
        {{ lineage_columns() }}
    from judged
)

select * from shown
