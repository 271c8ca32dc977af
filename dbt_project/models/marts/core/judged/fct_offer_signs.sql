with days as (
    select * from {{ ref('int_review_days') }}
),

leads as (
    select * from {{ ref('fct_offer_leads') }}
),

pairs as (
    select * from {{ ref('fct_offer_pairs') }}
),

slots as (
    select * from {{ ref('fct_plan_slots') }}
),

planned as (
    select distinct
        class_id,
        routine_id,
        term_id
    from slots
),

lines as (
    select
        days.review_on,
        days.is_review,
        days.review_number,
        days.team_sees_from_on,
        pairs.school_id,
        pairs.class_id,
        pairs.class_title,
        pairs.grade_codes,
        pairs.routine_id,
        days.term_id,
        coalesce(leads.measure_name, 'responsiveness') as measure_name,
        coalesce(leads.sufficiency, 'none') as sufficiency,
        coalesce(leads.sureness, 'too_little') as sureness,
        planned.routine_id is not null as is_planned,
        coalesce(leads.is_readable, false) as is_readable,
        coalesce(leads.has_held, false) as has_held,
        coalesce(leads.is_below, false) as is_below,
        coalesce(leads.other_below_count, 0) as other_below_count,
        coalesce(leads.is_down, false) as is_down,
        coalesce(leads.is_lasting, false) as is_lasting,
        leads.newest_on,
        coalesce(leads.session_count, 0) as session_count,
        coalesce(leads.day_count, 0) as day_count,
        coalesce(leads.under_session_count, 0) as under_session_count,
        leads.first_under_on,
        leads.value,
        leads.standard_error,
        leads.spread_df,
        leads.p_value,
        leads.upper_one_sided,
        leads.previous_value,
        leads.previous_sufficiency,
        coalesce(leads.score_sum, 0.0) as score_sum,
        coalesce(leads.last_run_number, 0) as last_run_number
    from days
    inner join pairs on days.school_id = pairs.school_id
    left join planned
        on
            pairs.class_id = planned.class_id
            and pairs.routine_id = planned.routine_id
            and days.term_id = planned.term_id
    left join leads
        on
            days.review_on = leads.review_on
            and days.is_review = leads.is_review
            and pairs.class_id = leads.class_id
            and pairs.routine_id = leads.routine_id
),

signed as (
    select
        *,
        cast(is_below as bigint)
        + cast(is_below and is_down as bigint)
        + other_below_count as sign_count
    from lines
),

-- What would be offered if this line were the only one looked at.
judged as (
    select
        *,
        is_planned
        and is_below
        and (sign_count >= {{ threshold('offer_signs') }} or is_lasting) as shows_it
    from signed
)

select * from judged
