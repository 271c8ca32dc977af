with spread as (
    select * from {{ ref('fct_class_spread') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

judged as (
    select
        spread.*,
        case when not spread.is_enough then 'few_classes' end as reason
    from spread
    inner join terms
        on
            spread.school_id = terms.school_id
            and spread.term_id = terms.term_id
),

shown as (
    select
        school_id,
        routine_id,
        term_id,
        measure_name,
        case when reason is null then class_count end as class_count,
        {%- for figure in ['visit_sd', 'class_sd', 'between_share'] %}
        case when reason is null then {{ figure }} end as {{ figure }},
        {%- endfor %}
        case when reason is null then spread_code end as spread_code,
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from judged
)

select * from shown
