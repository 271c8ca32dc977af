with gaps as (
    select * from {{ ref('int_observer_gaps') }}
),

-- Where the months are counted from changes no slope.
points as (
    select
        *,
        {{ days_between("cast('2000-01-01' as date)", 'observed_on') }} / 30.0 as month_number
    from gaps
),

lines as (
    {{ least_squares_line(
        'points', ['school_id', 'measure_kind', 'observer_id'], 'month_number',
        'adjusted_difference') }}
)

select * from lines
