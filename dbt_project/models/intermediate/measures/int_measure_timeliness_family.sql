with received as (
    select
        *,
        {{ local_date('received_at') }} as written_on
    from {{ ref('int_family_weeks') }}
    where event_on is not null
),

-- The first load brings the past at once and says nothing about how soon things come in.
entries as (
    select *
    from received
    qualify written_on > min(written_on) over (partition by school_id)
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

parts as (
    {{ timeliness_parts('entries', 'day_counts', 'event_on', 'written_on') }}
)

select * from parts
