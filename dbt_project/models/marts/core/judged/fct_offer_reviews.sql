with hands as (
    select * from {{ ref('fct_offer_hands') }}
),

counted as (
    select
        *,
        sum(case when is_open then 1 else 0 end) over so_far as review_count,
        min(case when is_open then review_on end) over so_far as opened_on,
        coalesce(lag(is_standing) over in_term, false) as was_standing
    from hands
    window
        so_far as (
            partition by class_id, routine_id, term_id, begun_on
            order by review_number
            rows between unbounded preceding and current row
        ),
        in_term as (partition by class_id, routine_id, term_id order by review_number)
),

stated as (
    select
        *,
        case
            when is_open and opened_on = review_on then 'opened'
            when is_open and phase = 'back' then 'closing'
            when is_open then 'held_on'
            when is_standing and is_school_matter then 'held_school'
            when is_standing and is_grade_matter then 'held_grade'
            when is_standing then 'waiting'
            when phase = 'closed' and was_standing and opened_on is not null then 'closed'
            else 'silent'
        end as review_state
    from counted
),

reasoned as (
    select
        *,
        {{ silence_reason() }} as reason_of_silence
    from stated
),

final as (
    select
        school_id,
        review_on,
        review_number,
        term_id,
        team_sees_from_on,
        class_id,
        class_title,
        grade_codes,
        routine_id,
        measure_name,
        review_state,
        case
            when review_state in ('held_school', 'held_grade') then review_state
            when review_state = 'waiting' then 'capacity'
            when review_state in ('closed', 'silent') then reason_of_silence
        end as why_not,
        phase,
        sufficiency,
        sureness,
        {{ sign_codes() }} as reason_codes,
        sign_count,
        is_planned,
        is_readable,
        shows_it,
        is_found,
        is_standing,
        session_count,
        day_count,
        under_session_count,
        first_under_on,
        newest_on,
        round(value, 9) as value,
        round(standard_error, 9) as standard_error,
        round(spread_df, 9) as spread_df,
        round(upper_one_sided, 9) as upper_one_sided,
        round(p_value, 9) as p_value,
        round(adjusted_p, 9) as adjusted_p,
        tested_count,
        case when is_standing or review_state = 'closed' then opened_on end as opened_on,
        cast(
            case when is_standing or review_state = 'closed' then review_count else 0 end as bigint
        ) as review_count,
        begun_sessions,
        begun_sum,
        turned_sessions,
        case when is_standing then session_count - begun_sessions end as since_session_count,
        case
            when is_standing
                then round(
                    (score_sum - begun_sum) / nullif(session_count - begun_sessions, 0), 9
                )
        end as since_value
    from reasoned
)

select * from final
