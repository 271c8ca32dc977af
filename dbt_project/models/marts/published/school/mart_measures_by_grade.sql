with measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'grade'
),

counts as (
    select * from {{ ref('dim_measure_counts') }}
    where not is_about_supported
),

told as (
    select
        measures.*,
        counts.is_of_people
    from measures
    inner join counts on measures.measure_name = counts.measure_name
),

shown as (
    select
        school_id,
        grade_code,
        routine_id,
        term_id,
        window_code,
        measure_name,
        {{ published_row(none, 'reason', people='is_of_people') }},
        cast(class_count as bigint) as class_count,
        cast(seen_class_count as bigint) as seen_class_count,
        case when reason is null then weakest_dimension end as weakest_dimension,
        {{ previous_columns(none) }},
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from told
)

select * from shown
