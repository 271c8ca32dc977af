with class_lines as (
    select * from {{ ref('fct_offer_class_lines') }}
),

matter_lines as (
    select * from {{ ref('fct_offer_matter_lines') }}
),

together as (
    select * from class_lines
    union all
    select * from matter_lines
),

listed as (
    select
        offer_id,
        school_id,
        level_code,
        class_id,
        class_title,
        grade_code,
        routine_id,
        term_id,
        measure_name,
        state_code,
        why_not,
        reason_codes,
        sign_count,
        numerator_count,
        denominator_count,
        value,
        low,
        high,
        high_one_sided,
        previous_value,
        session_count,
        day_count,
        observer_count,
        previous_sufficiency,
        weakest_dimension,
        sureness,
        next_step_code,
        shows_it,
        next_review_on,
        shown_class_count,
        class_count
    from together
)

select * from listed
