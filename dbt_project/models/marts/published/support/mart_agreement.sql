with agreement as (
    select * from {{ ref('fct_agreement') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

shown as (
    select
        agreement.school_id,
        agreement.term_id,
        agreement.measure_kind,
        agreement.kappa_weights,
        agreement.visit_count,
        agreement.double_watched_count,
        agreement.double_watched_rate,
        agreement.pair_session_count,
        agreement.compared_count,
        agreement.agreement_rate,
        agreement.occurrence_rate,
        agreement.nonoccurrence_rate,
        agreement.prevalence_rate,
        agreement.kappa,
        agreement.kappa_low,
        agreement.kappa_high,
        agreement.gwet_ac1,
        agreement.brennan_prediger,
        agreement.icc_visit_count,
        agreement.icc_2_1,
        agreement.icc_2_k,
        agreement.icc_1_1,
        agreement.icc_1_1_low,
        agreement.icc_1_1_high,
        agreement.status,
        agreement.is_double_watched_enough,
        {{ lineage_columns() }}
    from agreement
    inner join terms
        on agreement.school_id = terms.school_id and agreement.term_id = terms.term_id
)

select * from shown
