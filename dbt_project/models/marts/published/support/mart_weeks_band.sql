with bands as (
    select * from {{ ref('fct_week_bands') }}
),

shown as (
    select
        school_id,
        routine_id,
        term_id,
        week_first_on,
        measure_name,
        q1,
        q3,
        class_count
    from bands
)

select * from shown
