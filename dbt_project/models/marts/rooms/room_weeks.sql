with weeks as (
    select * from {{ ref('fct_weeks_filled') }}
    where level_code = 'class'
),

bands as (
    select * from {{ ref('fct_week_bands') }}
),

shown as (
    select
        weeks.school_id,
        weeks.class_id,
        weeks.routine_id,
        weeks.term_id,
        weeks.week_number,
        weeks.week_first_on,
        weeks.week_last_on,
        weeks.measure_name,
        {{ published_row('weeks', 'cast(null as string)') }},
        weeks.is_break,
        bands.q1 as band_low,
        bands.q3 as band_high,
        {{ withheld_columns('cast(null as string)') }},
        {{ lineage_columns() }}
    from weeks
    left join bands
        on
            weeks.school_id = bands.school_id
            and weeks.routine_id = bands.routine_id
            and weeks.term_id = bands.term_id
            and weeks.week_first_on = bands.week_first_on
            and weeks.measure_name = bands.measure_name
)

select * from shown
