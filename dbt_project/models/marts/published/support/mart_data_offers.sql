with offers as (
    select * from {{ ref('fct_data_offers') }}
),

shown as (
    select
        *,
        {{ lineage_columns() }}
    from offers
)

select * from shown
