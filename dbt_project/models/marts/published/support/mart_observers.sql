with observers as (
    select * from {{ ref('fct_observers') }}
),

-- With two observers, what is said of one is said of the other.
judged as (
    select
        *,
        case when observer_count < {{ threshold('observer_min_people') }} then 'small_cell' end
            as reason
    from observers
),

shown as (
    select
        school_id,
        measure_kind,
        observer_id,
        case when reason is null then basis_code end as basis_code,
        case when reason is null then reading_code end as reading_code,
        case when reason is null then drift_code end as drift_code,
        observer_count,
        case when reason is null then visit_count end as visit_count,
        case when reason is null then pair_count end as pair_count,
        case when reason is null then difference end as difference,
        case when reason is null then difference_low end as difference_low,
        case when reason is null then difference_high end as difference_high,
        case when reason is null then own_weight end as own_weight,
        case when reason is null then lean end as lean,
        case when reason is null then drift_per_month end as drift_per_month,
        case when reason is null then drift_low end as drift_low,
        case when reason is null then drift_high end as drift_high,
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from judged
)

select * from shown
