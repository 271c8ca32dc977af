with weeks as (
    select * from {{ ref('fct_weeks_filled') }}
    where level_code = 'class' and value is not null
),

bands as (
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        measure_name,
        round(percentile_cont(0.25) within group (order by value), 9) as q1,
        round(percentile_cont(0.75) within group (order by value), 9) as q3,
        count(*) as class_count
    from weeks
    group by school_id, routine_id, term_id, week_first_on, measure_name
    having count(*) >= {{ threshold('band_classes') }}
)

select * from bands
