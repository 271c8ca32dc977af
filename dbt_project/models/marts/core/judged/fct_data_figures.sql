with measures as (
    select * from {{ ref('fct_measures') }}
    where
        level_code = 'class'
        and routine_id = '*'
        and measure_name in ('completeness_lessons', 'backfilled_share', 'responsiveness')
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

current_figures as (
    select
        measures.school_id,
        measures.class_id,
        classes.title as class_title,
        measures.term_id,
        measures.window_code,
        measures.measure_name,
        measures.sufficiency,
        measures.session_count,
        measures.day_count,
        measures.numerator_count,
        measures.denominator_count,
        measures.value
    from measures
    inner join classes on measures.class_id = classes.class_id
    inner join terms
        on
            measures.school_id = terms.school_id
            and measures.term_id = terms.term_id
)

select * from current_figures
