with starts as (
    select * from {{ ref('int_visit_starts') }}
)

select * from starts
