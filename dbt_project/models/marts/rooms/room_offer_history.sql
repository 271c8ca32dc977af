with reviews as (
    select * from {{ ref('fct_offer_reviews') }}
),

shown as (
    select
        school_id,
        class_id,
        {{ review_columns() }},
        {{ lineage_columns() }}
    from reviews
)

select * from shown
