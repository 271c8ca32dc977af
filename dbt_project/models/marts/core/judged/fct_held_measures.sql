with agreement as (
    select * from {{ ref('fct_agreement') }}
    where status = 'look_together'
),

kinds as (
    select * from {{ ref('seed_observed_kinds') }}
),

held as (
    select
        agreement.school_id,
        agreement.term_id,
        kinds.measure_name,
        agreement.measure_kind,
        'observers_differ' as reason_code,
        kinds.kind_order,
        agreement.pair_session_count,
        agreement.compared_count,
        agreement.kappa
    from agreement
    inner join kinds on agreement.measure_kind = kinds.measure_kind
),

-- Fidelity is a mean of these; one of them held is enough.
of_fidelity as (
    select
        school_id,
        term_id,
        'fidelity' as measure_name,
        measure_kind,
        'dimension_held' as reason_code,
        kind_order,
        pair_session_count,
        compared_count,
        kappa
    from held
    where measure_name in ('responsiveness', 'adherence', 'quality')
    qualify row_number() over (partition by school_id, term_id order by kind_order) = 1
),

everything as (
    select * from held
    union all
    select * from of_fidelity
),

final as (
    select
        school_id,
        term_id,
        measure_name,
        measure_kind,
        reason_code,
        pair_session_count,
        compared_count,
        kappa
    from everything
)

select * from final
