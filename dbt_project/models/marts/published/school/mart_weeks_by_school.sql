with weeks as (
    select * from {{ ref('fct_weeks_filled') }}
    where level_code = 'school'
),

shown as (
    select
        school_id,
        routine_id,
        term_id,
        week_number,
        week_first_on,
        week_last_on,
        measure_name,
        {{ published_row(none, 'reason') }},
        is_break,
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from weeks
)

select * from shown
