with measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'class' and not {{ is_about_supported('measure_name') }}
),

shown as (
    select
        school_id,
        class_id,
        routine_id,
        term_id,
        window_code,
        measure_name,
        {{ published_row(none, 'reason') }},
        case when reason is null then weakest_dimension end as weakest_dimension,
        {{ previous_columns(none) }},
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from measures
)

select * from shown
