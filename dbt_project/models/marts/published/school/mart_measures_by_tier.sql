with measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'tier'
),

shown as (
    select
        school_id,
        tier_code,
        {{ tier_name('tier_code') }} as tier_name,
        routine_id,
        term_id,
        window_code,
        measure_name,
        {{ published_row(none, 'reason') }},
        {{ previous_columns(none) }},
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from measures
)

select * from shown
