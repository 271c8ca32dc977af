with days as (
    select * from {{ ref('int_review_days') }}
),

visits as (
    select * from {{ ref('int_offer_visits') }}
),

-- Each class, routine and term of the year as it stood on each review day.
placed as (
    select
        days.review_on,
        days.is_review,
        days.term_id as review_term_id,
        visits.*
    from days
    inner join visits
        on days.school_id = visits.school_id and days.review_on >= visits.observed_on
    qualify row_number() over (
        partition by
            days.review_on, days.is_review, visits.class_id, visits.routine_id, visits.term_id,
            visits.measure_name
        order by visits.session_count desc
    ) = 1
),

-- Spread between visits of one class, routine and term, pooled over the school and the year so far.
pooled as (
    select
        *,
        sum(session_count - 1) over pool as pooled_df,
        sum(score_variance * (session_count - 1)) over pool
        / nullif(sum(session_count - 1) over pool, 0) as pooled_variance
    from placed
    window pool as (partition by school_id, review_on, is_review, measure_name)
)

select * from pooled
