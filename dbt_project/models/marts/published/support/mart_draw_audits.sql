with audits as (
    select * from {{ ref('fct_draw_audits') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

-- Counts here are of turns and simulations, never of children.
shown as (
    select
        audits.class_id,
        classes.school_id,
        audits.term_id,
        audits.method,
        audits.verdict_code,
        audits.turn_count,
        audits.passed_over_count,
        audits.statistic,
        audits.expected_statistic,
        audits.simulation_count,
        audits.p,
        {{ lineage_columns() }}
    from audits
    inner join classes on audits.class_id = classes.class_id
    inner join terms
        on
            classes.school_id = terms.school_id
            and audits.term_id = terms.term_id
)

select * from shown
