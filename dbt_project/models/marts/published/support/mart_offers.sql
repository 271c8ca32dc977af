with offers as (
    select * from {{ ref('fct_offers') }}
),

shown as (
    select
        offer_id,
        school_id,
        level_code,
        class_id,
        class_title,
        grade_code,
        {{ offer_columns() }},
        shown_class_count,
        class_count,
        {{ lineage_columns() }}
    from offers
)

select * from shown
