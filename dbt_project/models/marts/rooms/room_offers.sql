with offers as (
    select * from {{ ref('fct_offer_class_lines') }}
    where reader_code = 'room'
),

shown as (
    select
        offer_id,
        school_id,
        level_code,
        class_id,
        {{ offer_columns() }},
        {{ lineage_columns() }}
    from offers
)

select * from shown
