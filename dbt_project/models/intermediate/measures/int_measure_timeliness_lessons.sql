with entries as (
    select
        *,
        {{ local_date('entered_at') }} as written_on
    from {{ ref('int_lessons') }}
    where entered_at is not null
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

parts as (
    {{ timeliness_parts('entries', 'day_counts', 'taught_on', 'written_on') }}
)

select * from parts
