{%- set line = threshold('criterion') -%}
{%- set run = threshold('offer_quiet_visits') | trim | int -%}
{%- set in_order = 'partition by class_id, routine_id, term_id, measure_name '
    ~ 'order by observed_on, score, denominator '
    ~ 'rows between unbounded preceding and current row' -%}
with parts as (
    select * from {{ ref('int_rollup_parts') }}
    where
        routine_id is not null
        and not is_substitute
        and measure_name in (
            {%- for name in offer_measures() %}
            '{{ name }}'{% if not loop.last %},{% endif %}
            {%- endfor %}
        )
),

term_days as (
    select * from {{ ref('int_term_days') }}
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
    where is_current_year
),

visits as (
    select
        parts.school_id,
        parts.class_id,
        parts.routine_id,
        term_days.term_id,
        parts.measure_name,
        parts.event_on as observed_on,
        parts.score,
        parts.is_thin,
        parts.unit_count,
        parts.numerator,
        parts.denominator,
        {{ falls_short('parts.score', line) }} as is_under,
        row_number() over (
            partition by
                parts.class_id, parts.routine_id, term_days.term_id, parts.measure_name,
                parts.event_on
            order by parts.score, parts.denominator
        ) = 1 as is_new_day
    from parts
    inner join term_days
        on parts.school_id = term_days.school_id and parts.event_on = term_days.day_on
    inner join terms
        on
            term_days.school_id = terms.school_id
            and term_days.term_id = terms.term_id
),

-- Everything a review can ask, as it stood after each visit of the term.
running as (
    select
        school_id,
        class_id,
        routine_id,
        term_id,
        measure_name,
        observed_on,
        count(*) over in_order as session_count,
        sum(case when is_thin then 1 else 0 end) over in_order as thin_count,
        sum(case when is_new_day then 1 else 0 end) over in_order as day_count,
        sum(unit_count) over in_order as unit_count,
        sum(numerator) over in_order as numerator_count,
        sum(denominator) over in_order as denominator_count,
        round(avg(score) over in_order, 9) as value,
        sum(score) over in_order as score_sum,
        sum(score * score) over in_order as score_square_sum,
        sum(case when is_under then 1 else 0 end) over in_order as under_session_count,
        -- The lowest score of a day comes first, so that a day under the line counts once.
        sum(case when is_under and is_new_day then 1 else 0 end) over in_order
            as under_day_count,
        min(case when is_under then observed_on end) over in_order as first_under_on,
        sum(case when is_under then 1 else 0 end) over (
            partition by class_id, routine_id, term_id, measure_name
            order by observed_on, score, denominator
            rows between {{ run - 1 }} preceding and current row
        ) = {{ run }} as is_run
    from visits
    window in_order as ({{ in_order }})
),

final as (
    select
        *,
        {{ variance_from_sums('score_sum', 'score_square_sum', 'session_count') }}
            as score_variance,
        max(case when is_run then session_count else 0 end) over (
            partition by class_id, routine_id, term_id, measure_name
            order by session_count
            rows between unbounded preceding and current row
        ) as last_run_number
    from running
)

select * from final
