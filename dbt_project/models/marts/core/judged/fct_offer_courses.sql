with lines as (
    select * from {{ ref('fct_offer_class_lines') }}
    where reader_code = 'team'
),

hands as (
    select * from {{ ref('fct_offer_hands') }}
),

actions as (
    select * from {{ ref('fct_offer_actions') }}
    where is_last
),

answered as (
    select
        lines.offer_id,
        lines.school_id,
        lines.class_id,
        lines.routine_id,
        lines.term_id,
        lines.state_code,
        hands.begun_on,
        hands.place,
        actions.decision_id,
        actions.decision_code,
        actions.decided_on,
        actions.follow_up_on,
        actions.standing_code,
        -- Found once more after the team had decided: a new offer that nobody has answered yet.
        coalesce(hands.begun_on > actions.decided_on, false) as is_found_since
    from lines
    left join hands
        on
            lines.class_id = hands.class_id
            and lines.routine_id = hands.routine_id
            and lines.reviewed_on = hands.review_on
    left join actions
        on
            lines.class_id = actions.class_id
            and lines.routine_id = actions.routine_id
),

courses as (
    select
        *,
        state_code in ('offer', 'waiting') as is_free,
        {{ offer_course() }} as course_code
    from answered
),

-- What is ended, rests or waits needs no hand: the next in the queue may have it.
queued as (
    select
        *,
        is_free and course_code in ('new', 'returned', 'under_way', 'due') as is_in_queue
    from courses
),

placed as (
    select
        *,
        case
            when is_in_queue
                then row_number() over (
                    partition by school_id, is_in_queue order by place nulls last, offer_id
                )
        end as hand_number
    from queued
),

shown as (
    select
        offer_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        decision_id,
        decision_code,
        decided_on,
        follow_up_on,
        case when is_free or decision_id is not null then course_code else 'none' end
            as course_code,
        coalesce(hand_number <= {{ threshold('offer_capacity') }}, false) as has_hand,
        coalesce(
            course_code in ('new', 'returned')
            and hand_number <= {{ threshold('offer_capacity') }},
            false
        ) as is_to_consider
    from placed
)

select * from shown
