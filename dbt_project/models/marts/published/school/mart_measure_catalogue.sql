with measures as (
    select * from {{ ref('dim_measures') }}
),

shown as (
    select
        measure_name,
        title,
        question,
        numerator,
        denominator,
        unit,
        minimum_data,
        cannot_say,
        source,
        sense,
        shape,
        interval_kind,
        range_note,
        rests_on,
        criterion,
        is_by_routine,
        row_number() over (order by measure_name) as sort_order
    from measures
)

select * from shown
