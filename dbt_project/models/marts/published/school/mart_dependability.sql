with dependability as (
    select * from {{ ref('fct_dependability') }}
),

shown as (
    select
        dependability.school_id,
        dependability.measure_kind,
        dependability.planned_visits,
        dependability.basis_code,
        dependability.prior_source,
        dependability.prior_status,
        dependability.visit_count,
        dependability.phi,
        dependability.phi_one_observer,
        dependability.phi_at_criterion,
        dependability.visits_needed,
        dependability.class_share,
        dependability.occasion_share,
        dependability.observer_share,
        dependability.residual_share,
        {{ lineage_columns() }}
    from dependability
)

select * from shown
