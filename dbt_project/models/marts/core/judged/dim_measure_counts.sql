with counts as (
    {{ measure_counts() }}
),

measures as (
    select * from {{ ref('dim_measures') }}
),

final as (
    select
        measures.measure_name,
        measures.is_by_routine,
        counts.is_of_people,
        counts.is_over_children,
        counts.is_about_supported,
        counts.is_of_groups
    from measures
    inner join counts on measures.measure_name = counts.measure_name
)

select * from final
