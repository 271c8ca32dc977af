with offers as (
    select * from {{ ref('fct_offer_class_lines') }}
    where reader_code = 'room'
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
        offers.*,
        actions.decision_id,
        actions.decision_code,
        actions.standing_code,
        coalesce(hands.begun_on > actions.decided_on, false) as is_found_since
    from offers
    left join hands
        on
            offers.class_id = hands.class_id
            and offers.routine_id = hands.routine_id
            and offers.reviewed_on = hands.review_on
    left join actions
        on
            offers.class_id = actions.class_id
            and offers.routine_id = actions.routine_id
),

shown as (
    select
        offer_id,
        school_id,
        level_code,
        class_id,
        {{ offer_columns() }},
        case
            when state_code in ('offer', 'waiting') or decision_id is not null
                then {{ offer_course() }}
            else 'none'
        end as course_code,
        {{ lineage_columns() }}
    from answered
)

select * from shown
