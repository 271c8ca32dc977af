with received as (
    select * from {{ ref('int_family_weeks') }}
    where event_on is not null
),

entries as (
    {{ after_first_load('received') }}
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

parts as (
    {{ timeliness_parts('entries', 'day_counts', 'event_on', 'written_on') }}
)

select * from parts
