with measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'class'
),

shown as (
    select
        school_id,
        class_id,
        routine_id,
        term_id,
        window_code,
        measure_name,
        {{ published_row(none, 'cast(null as string)') }},
        weakest_dimension,
        {{ previous_columns(none, shows_all=true) }},
        {{ withheld_columns('cast(null as string)') }},
        {{ lineage_columns() }}
    from measures
)

select * from shown
