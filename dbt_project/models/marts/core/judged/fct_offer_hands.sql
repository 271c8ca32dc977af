with standing as (
    select * from {{ ref('fct_offer_standing') }}
),

holds as (
    select * from {{ ref('fct_offer_holds') }}
),

lines as (
    select
        standing.*,
        holds.is_school_matter,
        holds.is_grade_matter,
        standing.is_standing and not holds.is_school_matter and not holds.is_grade_matter
            as is_free
    from standing
    inner join holds
        on
            standing.review_on = holds.review_on
            and standing.class_id = holds.class_id
            and standing.routine_id = holds.routine_id
),

-- Reviews in a row on which a line stands and is not held.
numbered as (
    select
        *,
        case
            when is_free then review_number - row_number() over (
                partition by class_id, routine_id, term_id, is_free order by review_number
            )
        end as queue_part
    from lines
),

queued as (
    select
        *,
        min(review_number) over part as queued_number,
        first_value(newest_on) over (
            partition by class_id, routine_id, term_id, queue_part order by review_number
        ) as queued_newest_on
    from numbered
    window part as (partition by class_id, routine_id, term_id, queue_part)
),

-- The team's hands are few. Who came first keeps them; then the date of the newest visit and the
-- name decide, never a score.
placed as (
    select
        *,
        case
            when is_free then row_number() over (
                partition by school_id, review_on, is_free
                order by queued_number, queued_newest_on nulls last, class_title, routine_id
            )
        end as place
    from queued
),

handed as (
    select
        *,
        coalesce(place <= {{ threshold('offer_capacity') }}, false) as is_open
    from placed
)

select * from handed
