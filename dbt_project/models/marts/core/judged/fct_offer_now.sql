with tests as (
    select * from {{ ref('fct_offer_tests') }}
    where not is_review
),

reviews as (
    select * from {{ ref('fct_offer_reviews') }}
),

readers as (
    select 'room' as reader_code
    union all
    select 'team' as reader_code
),

-- Each reader's newest review of this term: the team's comes some school days after the teacher's.
seen as (
    select
        readers.reader_code,
        reviews.*
    from readers
    cross join reviews
    where readers.reader_code = 'room' or reviews.team_sees_from_on <= {{ as_of_on() }}
    qualify row_number() over (
        partition by
            readers.reader_code, reviews.class_id, reviews.routine_id, reviews.term_id
        order by reviews.review_on desc
    ) = 1
),

lines as (
    select
        readers.reader_code,
        tests.*,
        coalesce(seen.review_state, 'silent') as review_state,
        seen.review_on as reviewed_on,
        seen.team_sees_from_on as team_from_on,
        seen.why_not as why_not_then,
        seen.newest_on as newest_then_on,
        seen.p_value as p_then,
        seen.adjusted_p as adjusted_then,
        seen.tested_count as tested_then,
        seen.opened_on,
        seen.review_count,
        coalesce(seen.is_standing, false) as stands,
        seen.begun_sessions,
        seen.begun_sum,
        seen.turned_sessions,
        {{ reaches(mean_since('tests', 'seen'), threshold('criterion')) }} as is_back
    from tests
    cross join readers
    left join seen
        on
            readers.reader_code = seen.reader_code
            and tests.class_id = seen.class_id
            and tests.routine_id = seen.routine_id
            and tests.term_id = seen.term_id
),

reasoned as (
    select
        *,
        {{ silence_reason() }} as why_not_today
    from lines
),

stated as (
    select
        *,
        {{ sign_codes() }} as reason_codes,
        case
            when review_state in ('opened', 'held_on', 'closing') then 'offer'
            when review_state in ('waiting', 'held_grade', 'held_school') then review_state
            else 'none'
        end as state_code,
        case
            when review_state in ('opened', 'held_on', 'closing') then null
            when review_state = 'waiting' then 'capacity'
            when review_state in ('held_grade', 'held_school') then review_state
            when
                why_not_today = 'next_review'
                and why_not_then = 'by_chance'
                and newest_then_on = newest_on
                then 'by_chance'
            else why_not_today
        end as why_not
    from reasoned
)

select * from stated
