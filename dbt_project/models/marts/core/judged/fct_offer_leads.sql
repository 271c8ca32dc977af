with sides as (
    select * from {{ ref('fct_offer_sides') }}
),

-- The first measure of a fixed order that can be read leads; with none to be read, the first that
-- was seen at all.
placed as (
    select
        *,
        count(*) filter (where is_below) over line as below_count,
        max(case when is_held and is_enough then 1 else 0 end) over line = 1 as has_held,
        row_number() over (
            partition by review_on, is_review, class_id, routine_id
            order by case when is_readable then 0 else 1 end, lead_order
        ) as place
    from sides
    window line as (partition by review_on, is_review, class_id, routine_id)
),

leads as (
    select
        review_on,
        is_review,
        class_id,
        routine_id,
        measure_name,
        sufficiency,
        is_readable,
        has_held,
        is_below,
        below_count - cast(is_below as bigint) as other_below_count,
        is_down,
        is_lasting,
        newest_on,
        session_count,
        day_count,
        under_session_count,
        under_day_count,
        first_under_on,
        value,
        standard_error,
        spread_df,
        case when is_readable then p_value end as p_value,
        upper_one_sided,
        case
            when not is_readable then 'too_little'
            when {{ reaches('lower_two_sided', threshold('criterion')) }} then 'met'
            when {{ reaches('lower_one_sided', threshold('criterion')) }} then 'likely_met'
            when {{ falls_short('upper_one_sided', threshold('criterion')) }}
                then 'likely_below'
            else 'unclear'
        end as sureness,
        previous_value,
        previous_sufficiency,
        score_sum,
        last_run_number
    from placed
    where place = 1
)

select * from leads
