with measures as (
    select * from {{ ref('fct_measures_judged') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

catalogue as (
    select * from {{ ref('dim_measures') }}
),

seen_classes as (
    select * from {{ ref('fct_seen_classes') }}
),

differences as (
    select * from {{ ref('fct_measure_differences') }}
),

terms_before as (
    select
        school_id,
        term_id,
        lag(term_id) over (
            partition by school_id, school_year_ends
            order by term_number
        ) as previous_term_id
    from terms
),

compared as (
    select
        measures.school_id,
        measures.level_code,
        measures.class_id,
        measures.grade_code,
        measures.tier_code,
        measures.routine_id,
        measures.term_id,
        measures.window_code,
        measures.measure_name,
        measures.sufficiency,
        measures.status,
        measures.reason,
        case
            when measures.measure_name = 'fidelity' then {{ weakest_of('measures.detail') }}
        end as weakest_dimension,
        measures.session_count,
        measures.day_count,
        measures.unit_count,
        coalesce(seen_classes.class_count, 0) as class_count,
        case when seen_classes.class_count is null then 0 else seen_classes.seen_class_count end
            as seen_class_count,
        measures.numerator_count,
        measures.denominator_count,
        measures.value,
        measures.low,
        measures.high,
        measures.high_one_sided,
        -- A count grows with the days of its term: two terms of it are not compared.
        coalesce(catalogue.unit != 'count', false) as is_comparable,
        terms_before.previous_term_id,
        coalesce(previous.sufficiency, 'none') as previous_sufficiency,
        previous.reason as previous_reason,
        previous.value as previous_value,
        previous.low as previous_low,
        previous.high as previous_high,
        differences.difference_low,
        differences.difference_high,
        differences.change_code
    from measures
    left join catalogue on measures.measure_name = catalogue.measure_name
    left join terms_before
        on
            measures.school_id = terms_before.school_id
            and measures.term_id = terms_before.term_id
    left join measures as previous
        on
            measures.school_id = previous.school_id
            and measures.level_code = previous.level_code
            and measures.class_id = previous.class_id
            and measures.grade_code = previous.grade_code
            and measures.tier_code = previous.tier_code
            and measures.routine_id = previous.routine_id
            and measures.measure_name = previous.measure_name
            and measures.window_code = previous.window_code
            and terms_before.previous_term_id = previous.term_id
            and measures.window_code = 'term'
    left join differences
        on
            measures.school_id = differences.school_id
            and measures.level_code = differences.level_code
            and measures.class_id = differences.class_id
            and measures.grade_code = differences.grade_code
            and measures.tier_code = differences.tier_code
            and measures.routine_id = differences.routine_id
            and measures.measure_name = differences.measure_name
            and measures.term_id = differences.term_id
            and measures.window_code = differences.window_code
    left join seen_classes
        on
            measures.school_id = seen_classes.school_id
            and measures.level_code = seen_classes.level_code
            and measures.grade_code = seen_classes.grade_code
            and measures.routine_id = seen_classes.routine_id
            and measures.term_id = seen_classes.term_id
            and measures.window_code = seen_classes.window_code
            and measures.measure_name = seen_classes.measure_name
)

select * from compared
