with signs as (
    select * from {{ ref('fct_offer_signs') }}
),

-- The lines one review looks at: planned, and with a measure that can be read.
looked_at as (
    select
        review_on,
        is_review,
        school_id,
        class_id,
        routine_id,
        case when is_planned and is_readable then p_value end as line_p
    from signs
    where is_review
),

adjusted as (
    {{ benjamini_hochberg('looked_at', ['school_id', 'review_on'], 'line_p') }}
),

counted as (
    select
        review_on,
        is_review,
        class_id,
        routine_id,
        round(adjusted_p, 9) as adjusted_p,
        count(line_p) over (partition by school_id, review_on) as tested_count
    from adjusted
),

-- Only what a review found stands: on the as-of day between two reviews nothing is tested.
tested as (
    select
        signs.*,
        counted.adjusted_p,
        coalesce(counted.tested_count, 0) as tested_count,
        signs.is_review
        and signs.shows_it
        and coalesce(counted.adjusted_p <= {{ threshold('offer_false_share') }}, false)
            as is_found
    from signs
    left join counted
        on
            signs.review_on = counted.review_on
            and signs.is_review = counted.is_review
            and signs.class_id = counted.class_id
            and signs.routine_id = counted.routine_id
)

select * from tested
