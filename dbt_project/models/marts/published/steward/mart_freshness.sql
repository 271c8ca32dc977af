with feeds as (
    select * from {{ ref('fct_feed_ledger') }}
),

shown as (
    select
        school_id,
        feed,
        last_event_on,
        last_received_on,
        {{ days_between('last_event_on', as_of_on()) }} as event_age_days,
        {{ days_between('last_received_on', as_of_on()) }} as received_age_days,
        {{ lineage_columns() }}
    from feeds
)

select * from shown
