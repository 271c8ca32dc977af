{%- set figures = [
    'numerator_count', 'denominator_count', 'value', 'low', 'high', 'previous_value',
    'previous_term_id',
] -%}
with matters as (
    select * from {{ ref('fct_offer_matters') }}
),

days as (
    select * from {{ ref('int_review_days') }}
    where is_review and team_sees_from_on <= {{ as_of_on() }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
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

newest as (
    select
        days.school_id,
        days.term_id,
        max(days.review_on) as review_on,
        max(days.team_sees_from_on) as team_sees_from_on
    from days
    inner join terms
        on days.school_id = terms.school_id and days.term_id = terms.term_id
    group by days.school_id, days.term_id
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
        nullif(matters.grade_code, '*') as grade_code,
        matters.routine_id,
        matters.term_id,
        matters.measure_name,
        {%- for figure in figures %}
        measures.{{ figure }},
        {%- endfor %}
        measures.high_one_sided as upper_one_sided,
        coalesce(measures.session_count, 0) as session_count,
        coalesce(measures.day_count, 0) as day_count,
        measures.previous_sufficiency,
        measures.weakest_dimension,
        coalesce(measures.status, 'too_little') as sureness,
        next_days.next_review_on,
        newest.review_on as reviewed_on,
        newest.team_sees_from_on,
        matters.shown_class_count,
        matters.class_count
    from matters
    inner join newest
        on
            matters.school_id = newest.school_id
            and matters.review_on = newest.review_on
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
