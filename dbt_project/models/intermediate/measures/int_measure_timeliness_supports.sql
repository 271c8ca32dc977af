with received as (
    select * from {{ ref('int_support_checks') }}
    where class_id is not null
),

entries as (
    {{ after_first_load('received') }}
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

parts as (
    {{ timeliness_parts('entries', 'day_counts', 'checked_on', 'written_on') }}
)

select * from parts
