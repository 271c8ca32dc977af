with breaks as (
    select * from {{ ref('int_breaks') }}
)

select * from breaks
