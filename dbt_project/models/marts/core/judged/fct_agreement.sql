with agreement as (
    select * from {{ ref('int_agreement') }}
    where window_code = 'term'
),

scores as (
    select * from {{ ref('int_agreement_scores') }}
),

watched as (
    select * from {{ ref('int_double_watched') }}
    where window_code = 'term'
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started
),

kinds as (
    select distinct
        measure_kind,
        kappa_weights
    from {{ ref('seed_observed_kinds') }}
),

-- A row for every kind, whether or not two ever watched together.
grid as (
    select
        terms.school_id,
        terms.term_id,
        kinds.measure_kind,
        kinds.kappa_weights
    from terms
    cross join kinds
),

joined as (
    select
        grid.school_id,
        grid.term_id,
        grid.measure_kind,
        grid.kappa_weights,
        cast(coalesce(watched.visit_count, 0) as bigint) as visit_count,
        cast(coalesce(watched.double_count, 0) as bigint) as double_watched_count,
        {{ rounded_share('watched.double_count', 'watched.visit_count') }} as double_watched_rate,
        cast(coalesce(agreement.pair_session_count, 0) as bigint) as pair_session_count,
        cast(coalesce(agreement.compared_count, 0) as bigint) as compared_count,
        round(agreement.agreement_rate, 9) as agreement_rate,
        round(agreement.occurrence_rate, 9) as occurrence_rate,
        round(agreement.nonoccurrence_rate, 9) as nonoccurrence_rate,
        round(agreement.prevalence_rate, 9) as prevalence_rate,
        round(agreement.kappa, 9) as kappa,
        round({{ kappa_limit('-') }}, 9) as kappa_low,
        round({{ kappa_limit('+') }}, 9) as kappa_high,
        round(agreement.gwet_ac1, 9) as gwet_ac1,
        round(agreement.brennan_prediger, 9) as brennan_prediger,
        cast(coalesce(scores.icc_visit_count, 0) as bigint) as icc_visit_count,
        round(scores.icc_2_1, 9) as icc_2_1,
        round(scores.icc_2_k, 9) as icc_2_k,
        round(scores.icc_1_1, 9) as icc_1_1,
        round(scores.icc_1_1_low, 9) as icc_1_1_low,
        round(scores.icc_1_1_high, 9) as icc_1_1_high
    from grid
    left join agreement
        on
            grid.school_id = agreement.school_id
            and grid.term_id = agreement.term_id
            and grid.measure_kind = agreement.measure_kind
    left join scores
        on
            grid.school_id = scores.school_id
            and grid.term_id = scores.term_id
            and grid.measure_kind = scores.measure_kind
    left join watched on grid.school_id = watched.school_id and grid.term_id = watched.term_id
),

final as (
    select
        *,
        case
            when
                compared_count < {{ threshold('agreement_min_looks') }}
                or pair_session_count < {{ threshold('agreement_min_pairs') }}
                then 'too_few'
            when kappa < {{ threshold('kappa_line') }} then 'look_together'
            when kappa is null and agreement_rate < {{ threshold('agreement_line') }}
                then 'look_together'
            else 'agreed'
        end as status,
        coalesce(double_watched_rate >= {{ threshold('double_watched_line') }}, false)
            as is_double_watched_enough
    from joined
)

select * from final
