with draws as (
    select * from {{ ref('fct_draws') }}
    where cycle_key is not null
),

cycles as (
    select
        class_id,
        cycle_key,
        cycle_number,
        min(drawn_on) as first_on,
        max(drawn_on) as last_on
    from draws
    group by class_id, cycle_key, cycle_number
),

ended as (
    select
        class_id,
        cycle_key,
        cycle_number,
        first_on,
        last_on,
        max(first_on) over (
            partition by class_id
            order by first_on, cycle_number
            rows between 1 following and unbounded following
        ) is not null as is_closed
    from cycles
)

select * from ended
