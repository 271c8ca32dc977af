with held as (
    select * from {{ ref('fct_held_measures') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

shown as (
    select
        held.school_id,
        held.term_id,
        held.measure_name,
        held.measure_kind,
        held.reason_code,
        held.pair_session_count,
        held.compared_count,
        held.kappa,
        {{ lineage_columns() }}
    from held
    inner join terms on held.school_id = terms.school_id and held.term_id = terms.term_id
)

select * from shown
