with watched as (
    select * from {{ ref('int_double_watched') }}
),

placed as (
    select
        *,
        'school' as level_code,
        '*' as class_id,
        '*' as grade_code,
        '*' as routine_id
    from watched
),

-- All visits are counted, none is a sample: there is no range.
final as (
    select
        {{ finished_row(
            value='max(double_count) * 1.0 / max(visit_count)',
            numerator='max(double_count)',
            denominator='max(visit_count)',
            sessions='max(visit_count)',
            days='max(day_count)',
            units='max(visit_count)',
            classes='max(class_count)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
