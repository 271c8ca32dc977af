with scores as (
    select * from {{ ref('int_session_scores') }}
    where is_current_year and not is_substitute
),

{% set keys = ['school_id', 'measure_kind'] -%}
counted as (
    select
        school_id,
        measure_kind,
        count(distinct visit_id) as visit_count,
        count(distinct class_id) as class_count,
        count(distinct observer_id) as observer_count
    from scores
    group by school_id, measure_kind
),

-- Visits that two watched tell the occasion from what is left over.
in_full as (
    {{ variance_components('scores', keys, ['class_id', 'visit_id', 'observer_id'], 'score') }}
),

-- Without them occasion and rest are one.
in_part as (
    {{ variance_components('scores', keys, ['class_id', 'observer_id'], 'score') }}
),

chosen as (
    select
        counted.*,
        in_full.residual_raw is not null as is_occasion_apart,
        in_part.mean_value,
        coalesce(in_full.class_id_variance, in_part.class_id_variance) as class_variance,
        in_full.visit_id_variance as occasion_variance,
        coalesce(in_full.observer_id_variance, in_part.observer_id_variance) as observer_variance,
        coalesce(in_full.residual_variance, in_part.residual_variance) as residual_variance
    from counted
    inner join in_full
        on
            counted.school_id = in_full.school_id
            and counted.measure_kind = in_full.measure_kind
    inner join in_part
        on
            counted.school_id = in_part.school_id
            and counted.measure_kind = in_part.measure_kind
),

-- Enough visits, classes and people, so that no component is one person's or one room's.
final as (
    select
        *,
        coalesce(occasion_variance, 0.0) + residual_variance as visit_variance,
        case
            when
                visit_count >= {{ threshold('dependability_sessions') }}
                and class_count >= {{ threshold('grade_matter_classes') }}
                and observer_count >= {{ threshold('observer_min_people') }}
                and residual_variance is not null
                then 'school'
            else 'prior'
        end as basis_code
    from chosen
)

select * from final
