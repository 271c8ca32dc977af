with tests as (
    select * from {{ ref('fct_offer_tests') }}
    where is_review
),

walk as (
    select * from {{ ref('fct_offer_walk') }}
),

standing as (
    select
        tests.*,
        walk.phase,
        walk.begun_on,
        walk.begun_sessions,
        walk.begun_sum,
        walk.turned_sessions,
        walk.phase in ('open', 'back') as is_standing
    from tests
    inner join walk
        on
            tests.class_id = walk.class_id
            and tests.routine_id = walk.routine_id
            and tests.review_on = walk.review_on
)

select * from standing
