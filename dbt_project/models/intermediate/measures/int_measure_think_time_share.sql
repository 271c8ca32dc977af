with draws as (
    select * from {{ ref('int_draws') }}
    where wait_seconds is not null
),

-- Waits of one day are alike: a day of draws is one occasion with its own share.
days as (
    select
        school_id,
        class_id,
        drawn_on,
        count(*) as timed_count,
        count(*) filter (where wait_seconds >= {{ threshold('think_seconds') }}) as long_count
    from draws
    group by school_id, class_id, drawn_on
),

parts as (
    select
        school_id,
        class_id,
        cast(null as string) as routine_id,
        cast(null as string) as tier_code,
        drawn_on as event_on,
        false as is_substitute,
        false as is_thin,
        1 as session_count,
        cast(timed_count as double) as unit_count,
        cast(long_count as double) as numerator,
        cast(long_count as double) as numerator_high,
        cast(timed_count as double) as denominator,
        long_count * 1.0 / timed_count as score
    from days
)

select * from parts
