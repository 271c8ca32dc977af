with judged as (
    select * from {{ ref('int_offer_measured') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

held as (
    select distinct
        school_id,
        term_id,
        measure_name
    from {{ ref('fct_held_measures') }}
),

-- The class's own term before, as it was known on the review day.
compared as (
    select
        judged.*,
        coalesce(earlier.sufficiency, 'none') as previous_sufficiency,
        earlier.value as previous_value,
        routines.kind,
        held.measure_name is not null as is_held,
        judged.sufficiency in ('usable', 'solid')
        and judged.session_count >= {{ threshold('min_sessions') }}
        and judged.day_count >= {{ threshold('min_days') }} as is_enough
    from judged
    inner join routines on judged.routine_id = routines.routine_id
    left join held
        on
            judged.school_id = held.school_id
            and judged.term_id = held.term_id
            and judged.measure_name = held.measure_name
    left join judged as earlier
        on
            judged.review_on = earlier.review_on
            and judged.is_review = earlier.is_review
            and judged.class_id = earlier.class_id
            and judged.routine_id = earlier.routine_id
            and judged.measure_name = earlier.measure_name
            and judged.school_year_ends = earlier.school_year_ends
            and judged.term_number = earlier.term_number + 1
    where judged.term_id = judged.review_term_id
),

-- A sign is told by one visit in two at least, and on different days, when it lasts.
signed as (
    select
        review_on,
        is_review,
        school_id,
        class_id,
        routine_id,
        term_id,
        measure_name,
        sufficiency,
        cast(session_count as bigint) as session_count,
        cast(day_count as bigint) as day_count,
        cast(under_session_count as bigint) as under_session_count,
        cast(under_day_count as bigint) as under_day_count,
        first_under_on,
        observed_on as newest_on,
        value,
        standard_error,
        spread_df,
        case when not is_held then p_value end as p_value,
        upper_one_sided,
        lower_one_sided,
        lower_two_sided,
        previous_value,
        previous_sufficiency,
        score_sum,
        cast(last_run_number as bigint) as last_run_number,
        is_held,
        is_enough,
        is_enough and not is_held and p_value is not null as is_readable,
        {{ offer_lead_order('measure_name', 'kind') }} as lead_order
    from compared
),

final as (
    select
        *,
        is_readable
        and {{ falls_short('upper_one_sided', threshold('criterion')) }} as is_below,
        is_readable
        and previous_sufficiency in ('usable', 'solid')
        and coalesce({{ falls_short('upper_one_sided', 'previous_value') }}, false) as is_down,
        is_readable
        and 2 * under_session_count >= session_count
        and under_day_count >= {{ threshold('min_days') }} as is_lasting
    from signed
)

select * from final
