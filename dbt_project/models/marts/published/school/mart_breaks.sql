with breaks as (
    select * from {{ ref('dim_breaks') }}
),

shown as (
    select
        school_id,
        first_on,
        last_on,
        label,
        cast(weekday_count as bigint) as weekday_count
    from breaks
)

select * from shown
