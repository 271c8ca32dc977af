with lines as (
    select * from {{ ref('fct_offer_now') }}
),

next_days as (
    select * from {{ ref('fct_offer_days') }}
),

beside as (
    select * from {{ ref('fct_offer_beside') }}
),

measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'class' and window_code = 'term'
),

class_lines as (
    select
        'class:' || lines.class_id || ':' || lines.routine_id || ':' || lines.term_id
            as offer_id,
        lines.reader_code,
        lines.school_id,
        'class' as level_code,
        lines.class_id,
        lines.class_title,
        split_part(lines.grade_codes, ';', 1) as grade_code,
        lines.routine_id,
        lines.term_id,
        lines.measure_name,
        lines.state_code,
        lines.review_state,
        lines.why_not,
        lines.reason_codes,
        lines.sign_count,
        measures.numerator_count,
        measures.denominator_count,
        measures.value,
        measures.low,
        measures.high,
        lines.upper_one_sided,
        measures.previous_value,
        measures.previous_term_id,
        lines.session_count,
        lines.day_count,
        beside.observer_count,
        measures.previous_sufficiency,
        beside.weakest_dimension,
        lines.sureness,
        case
            when lines.is_planned and not lines.is_readable then 'look_again'
            when not lines.stands then null
            when lines.measure_name = 'adherence' then 'practise_step'
            when not beside.is_taught_lately then 'teach_again'
            else 'booster'
        end as next_step_code,
        lines.stands as shows_it,
        next_days.next_review_on,
        lines.reviewed_on,
        lines.team_from_on as team_sees_from_on,
        lines.opened_on,
        lines.review_count,
        lines.p_then as p_value,
        lines.adjusted_then as adjusted_p,
        lines.tested_then as tested_count,
        lines.under_session_count,
        lines.first_under_on,
        lines.newest_on,
        case when lines.stands then lines.session_count - lines.begun_sessions end
            as since_session_count,
        case
            when lines.stands
                then
                    (lines.score_sum - lines.begun_sum)
                    / nullif(lines.session_count - lines.begun_sessions, 0)
        end as since_value,
        {{ closing_columns('lines') }},
        cast(null as bigint) as shown_class_count,
        cast(null as bigint) as class_count
    from lines
    left join next_days
        on
            lines.class_id = next_days.class_id
            and lines.routine_id = next_days.routine_id
    inner join beside
        on
            lines.class_id = beside.class_id
            and lines.routine_id = beside.routine_id
            and lines.term_id = beside.term_id
    left join measures
        on
            lines.class_id = measures.class_id
            and lines.routine_id = measures.routine_id
            and lines.term_id = measures.term_id
            and lines.measure_name = measures.measure_name
)

select * from class_lines
