with draws as (
    select * from {{ ref('fct_draws') }}
    where method = 'cycle' and cycle_number is not null
),

-- Numbers may begin again with a new term: the same number after two quiet months is a new cycle.
gapped as (
    select
        draw_id,
        class_id,
        cycle_number,
        drawn_on,
        case
            when
                {{ days_between(
                    'lag(drawn_on) over (partition by class_id, cycle_number order by drawn_on)',
                    'drawn_on'
                ) }} > 60
                then 1
            else 0
        end as begins_again
    from draws
),

running as (
    select
        draw_id,
        class_id,
        cycle_number,
        drawn_on,
        sum(begins_again) over (
            partition by class_id, cycle_number
            order by drawn_on
        ) as turn_of_number
    from gapped
),

cycles as (
    select
        class_id,
        cycle_number,
        turn_of_number,
        min(drawn_on) as first_on,
        max(drawn_on) as last_on
    from running
    group by class_id, cycle_number, turn_of_number
),

keyed as (
    select
        class_id,
        cycle_number || '.' || turn_of_number as cycle_key,
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

select * from keyed
