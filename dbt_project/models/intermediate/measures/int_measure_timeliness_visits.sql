with received as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

entries as (
    {{ after_first_load('received') }}
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

parts as (
    {{ timeliness_parts('entries', 'day_counts', 'observed_on', 'written_on') }}
)

select * from parts
