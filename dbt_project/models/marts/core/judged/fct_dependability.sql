{%- set wanted = 'class_variance' -%}
{%- set single = 'observer_variance + visit_variance' -%}
{%- set one_observer = phi_coefficient(
    wanted, 'observer_variance + visit_variance / planned_visits') -%}
{%- set at_criterion = phi_at_criterion(
    wanted, '(' ~ single ~ ') / planned_visits', 'mean_value', threshold('criterion'),
    'mean_variance') -%}
with variances as (
    select * from {{ ref('int_dependability') }}
),

priors as (
    select * from {{ ref('seed_dependability_priors') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

kinds as (
    select distinct measure_kind
    from {{ ref('seed_observed_kinds') }}
),

grid as (
    select
        schools.school_id,
        kinds.measure_kind,
        case
            when variances.basis_code = 'school' then 'school'
            when priors.phi is not null then 'prior'
            else 'none'
        end as basis_code,
        coalesce(variances.visit_count, 0) as visit_count,
        variances.class_count,
        variances.observer_count,
        case when variances.basis_code = 'school' then variances.mean_value end as mean_value,
        {%- for part in ['class', 'occasion', 'observer', 'residual', 'visit'] %}
        case when variances.basis_code = 'school' then variances.{{ part }}_variance end
            as {{ part }}_variance,
        {%- endfor %}
        priors.source as prior_source,
        priors.source_status as prior_status,
        {{ spearman_brown('priors.phi', '1.0 / priors.at_visits') }} as prior_phi
    from schools
    cross join kinds
    left join variances
        on
            schools.school_id = variances.school_id
            and kinds.measure_kind = variances.measure_kind
    left join priors on kinds.measure_kind = priors.measure_kind
),

-- One visit each by another observer; the error of the school's mean is taken off its distance.
of_one as (
    select
        *,
        case basis_code
            when 'school' then {{ phi_coefficient(wanted, single) }}
            when 'prior' then prior_phi
        end as phi_one,
        class_variance / class_count + observer_variance / observer_count
        + visit_variance / visit_count as mean_variance
    from grid
),

visits as (
    select
        of_one.*,
        {{ spearman_brown_needed('phi_one', threshold('dependability_target')) }} as needed_visits,
        {{ each_number(12) }} as planned_visits
    from of_one
),

final as (
    select
        school_id,
        measure_kind,
        cast(planned_visits as bigint) as planned_visits,
        basis_code,
        case when basis_code = 'prior' then prior_source end as prior_source,
        case when basis_code = 'prior' then prior_status end as prior_status,
        cast(visit_count as bigint) as visit_count,
        round({{ spearman_brown('phi_one', 'planned_visits') }}, 9) as phi,
        round({{ one_observer }}, 9) as phi_one_observer,
        round({{ at_criterion }}, 9) as phi_at_criterion,
        cast(ceil(round(needed_visits, 6)) as bigint) as visits_needed,
        round(class_variance / nullif(class_variance + {{ single }}, 0.0), 9) as class_share,
        round(occasion_variance / nullif(class_variance + {{ single }}, 0.0), 9) as occasion_share,
        round(observer_variance / nullif(class_variance + {{ single }}, 0.0), 9) as observer_share,
        round(residual_variance / nullif(class_variance + {{ single }}, 0.0), 9) as residual_share
    from visits
)

select * from final
