{%- set figures = [
    'numerator_count', 'denominator_count', 'value', 'low', 'high', 'high_one_sided',
    'previous_value',
] -%}
with matters as (
    select * from {{ ref('fct_offer_matters') }}
),

measures as (
    select * from {{ ref('fct_measures_compared') }}
    where
        level_code in ('school', 'grade')
        and window_code = 'term'
        and reason is null
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and day_on > {{ as_of_on() }}
),

next_days as (
    select
        school_id,
        min(day_on) as next_review_on
    from school_days
    group by school_id
),

matter_lines as (
    select
        matters.level_code || ':' || matters.grade_code || ':' || matters.routine_id
        || ':' || matters.term_id as offer_id,
        matters.school_id,
        matters.level_code,
        cast(null as string) as class_id,
        cast(null as string) as class_title,
        nullif(matters.grade_code, '*') as grade_code,
        matters.routine_id,
        matters.term_id,
        matters.measure_name,
        'offer' as state_code,
        cast(null as string) as why_not,
        'below_line' as reason_codes,
        cast(1 as bigint) as sign_count,
        {%- for figure in figures %}
        measures.{{ figure }},
        {%- endfor %}
        coalesce(measures.session_count, 0) as session_count,
        coalesce(measures.day_count, 0) as day_count,
        cast(null as bigint) as observer_count,
        measures.previous_sufficiency,
        measures.weakest_dimension,
        coalesce(measures.status, 'too_little') as sureness,
        'teach_again' as next_step_code,
        true as shows_it,
        next_days.next_review_on,
        matters.shown_class_count,
        matters.class_count
    from matters
    left join next_days on matters.school_id = next_days.school_id
    left join measures
        on
            matters.school_id = measures.school_id
            and matters.level_code = measures.level_code
            and matters.grade_code = measures.grade_code
            and matters.routine_id = measures.routine_id
            and matters.term_id = measures.term_id
            and matters.measure_name = measures.measure_name
)

select * from matter_lines
