with draws as (
    select * from {{ ref('fct_draws') }}
    where is_by_lot and is_offered and term_id is not null
),

-- The way in which most turns were drawn; the one with rounds first where two are level.
methods as (
    select
        class_id,
        term_id,
        method,
        count(*) as turn_count
    from draws
    group by class_id, term_id, method
    qualify row_number() over (
        partition by class_id, term_id
        order by count(*) desc, method asc
    ) = 1
),

day_counts as (
    select
        class_id,
        term_id,
        drawn_on,
        count(*) as turn_count,
        avg(eligible_pupil_count) as eligible_count
    from draws
    group by class_id, term_id, drawn_on
),

-- At the slow pace of a class one draw day in ten is slower.
paces as (
    select
        class_id,
        term_id,
        cast(sum(turn_count) as bigint) as turn_count,
        avg(turn_count) as turns_a_day,
        percentile_cont(0.1) within group (order by turn_count) as slow_turns_a_day,
        avg(eligible_count) as eligible_mean
    from day_counts
    group by class_id, term_id
),

possible as (
    select
        *,
        {{ wait_by_luck('eligible_mean', 'turn_count', threshold('wait_chance')) }} as luck_draws,
        {{ possible_wait('eligible_mean') }} as round_draws
    from paces
),

limited as (
    select
        possible.*,
        methods.method,
        case
            when methods.method = 'with_replacement' then possible.luck_draws
            when methods.method = 'queue' then possible.eligible_mean
            else possible.round_draws
        end as limit_draws
    from possible
    inner join methods
        on possible.class_id = methods.class_id and possible.term_id = methods.term_id
),

final as (
    select
        class_id,
        term_id,
        method,
        turn_count,
        round(cast(eligible_mean as double), 9) as eligible_mean,
        round(cast(turns_a_day as double), 9) as turns_a_day,
        round(cast(slow_turns_a_day as double), 9) as slow_turns_a_day,
        round(cast(eligible_mean / nullif(turns_a_day, 0) as double), 9) as expected_wait_days,
        round(cast(limit_draws as double), 9) as limit_draws,
        {{ draw_days('limit_draws', 'slow_turns_a_day') }} as limit_days
    from limited
)

select * from final
