with signs as (
    select * from {{ ref('fct_offer_signs') }}
),

holds as (
    select * from {{ ref('fct_offer_holds') }}
),

next_days as (
    select * from {{ ref('fct_offer_days') }}
),

dated as (
    select
        signs.*,
        holds.is_school_matter,
        holds.is_grade_matter,
        next_days.next_review_on
    from signs
    inner join holds
        on
            signs.class_id = holds.class_id
            and signs.routine_id = holds.routine_id
    left join next_days
        on
            signs.class_id = next_days.class_id
            and signs.routine_id = next_days.routine_id
),

reasoned as (
    select
        *,
        case
            when not is_planned then 'no_plan'
            when shows_it and is_school_matter then 'held_school'
            when shows_it and is_grade_matter then 'held_grade'
            when shows_it then null
            when not is_readable then 'thin'
            when is_below then 'one_sign'
            when status in ('met', 'likely_met') then 'met'
            else 'unclear'
        end as why_not
    from dated
),

-- The team's hands are few: who comes first is settled by date and by name, never by a score.
placed as (
    select
        *,
        row_number() over (
            partition by school_id, why_not is null
            order by next_review_on nulls last, class_title, routine_id
        ) as place
    from reasoned
),

stated as (
    select
        school_id,
        class_id,
        class_title,
        grade_codes,
        routine_id,
        term_id,
        measure_name,
        sufficiency,
        status,
        is_planned,
        is_readable,
        is_below,
        is_below_twice,
        is_down,
        is_lasting,
        newest_on,
        session_count,
        day_count,
        numerator_count,
        denominator_count,
        value,
        low,
        high,
        high_one_sided,
        previous_value,
        previous_sufficiency,
        sign_count,
        shows_it,
        next_review_on,
        why_not,
        case
            when why_not in ('held_school', 'held_grade') then why_not
            when why_not is not null then 'none'
            when place > {{ threshold('offer_capacity') }} then 'waiting'
            else 'offer'
        end as state_code
    from placed
)

select * from stated
