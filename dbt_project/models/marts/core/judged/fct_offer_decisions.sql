with decisions as (
    select * from {{ ref('int_offer_decisions') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

years as (
    select
        school_id,
        min(first_on) as first_on
    from {{ ref('dim_terms') }}
    where is_current_year
    group by school_id
),

reviews as (
    select * from {{ ref('fct_offer_reviews') }}
),

-- Coaching is the help itself; another wording or another teacher is another class to compare.
changes as (
    select * from {{ ref('dim_named_changes') }}
    where change_code in ('definition_change', 'new_teacher')
),

-- The measure that spoke at the newest review before the meeting.
leads as (
    select
        decisions.decision_id,
        max_by(reviews.measure_name, reviews.review_on) as measure_name
    from decisions
    inner join reviews
        on
            decisions.class_id = reviews.class_id
            and decisions.routine_id = reviews.routine_id
            and decisions.decided_on >= reviews.review_on
    group by decisions.decision_id
),

stretches as (
    select
        decisions.decision_id,
        max(changes.changed_on) filter (where changes.changed_on <= decisions.decided_on)
            as changed_before_on,
        min(changes.changed_on) filter (where changes.changed_on > decisions.decided_on)
            as changed_after_on
    from decisions
    left join changes
        on
            decisions.class_id = changes.class_id
            and changes.routine_id in (decisions.routine_id, '*')
    group by decisions.decision_id
),

joined as (
    select
        decisions.decision_id,
        decisions.school_id,
        decisions.class_id,
        classes.title as class_title,
        decisions.routine_id,
        decisions.term_id,
        decisions.offer_id,
        decisions.decision_code,
        decisions.decided_on,
        decisions.follow_up_on,
        decisions.decided_by,
        decisions.note,
        cast(decisions.decision_number as bigint) as decision_number,
        decisions.next_decided_on,
        decisions.is_last,
        coalesce(leads.measure_name, 'responsiveness') as measure_name,
        greatest(years.first_on, coalesce(stretches.changed_before_on, years.first_on))
            as compared_from_on,
        cast(
            least(
                coalesce(stretches.changed_after_on, {{ as_of_on() }} + interval 1 day),
                coalesce(
                    decisions.next_decided_on + interval 1 day,
                    {{ as_of_on() }} + interval 1 day
                )
            ) as date
        ) as compared_until_on
    from decisions
    inner join classes on decisions.class_id = classes.class_id
    inner join years on decisions.school_id = years.school_id
    inner join stretches on decisions.decision_id = stretches.decision_id
    left join leads on decisions.decision_id = leads.decision_id
)

select * from joined
