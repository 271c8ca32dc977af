{%- set keys = ['cycle_id'] -%}
with cycles as (
    select * from {{ ref('fct_coaching_cycles') }}
),

scores as (
    select * from {{ ref('fct_coaching_scores') }}
),

counted as (
    select
        cycle_id,
        count(*) filter (where not is_after) as before_count,
        count(*) filter (where is_after) as after_count
    from scores
    group by cycle_id
),

-- Too early: fewer visits on a side than a value needs.
readable as (
    select scores.*
    from scores
    inner join counted on scores.cycle_id = counted.cycle_id
    where
        counted.before_count >= {{ threshold('min_sessions') }}
        and counted.after_count >= {{ threshold('min_sessions') }}
),

pairs as (
    {{ nap('readable', keys, 'is_after', 'score', 'increase', threshold('ci_level')) }}
),

trend_free as (
    {{ tau_u('readable', keys, 'visit_number', 'is_after', 'score', 'increase') }}
),

means as (
    {{ phase_means('readable', keys, 'is_after', 'score', threshold('ci_level')) }}
),

listed as (
    select
        cycle_id,
        chosen_start_on,
        {{ each_part('start_options') }} as option_text
    from cycles
    where start_options is not null
),

options as (
    select
        *,
        bool_or(is_chosen) over (partition by cycle_id) as is_drawn
    from (
        select distinct
            cycle_id,
            try_cast(trim(option_text) as date) as start_on,
            coalesce(try_cast(trim(option_text) as date) = chosen_start_on, false) as is_chosen
        from listed
        where try_cast(trim(option_text) as date) is not null
    ) as each_option
),

-- A start that was not among the days in the lot was not drawn by it.
drawn as (
    select * from options
    where is_drawn
),

option_counts as (
    select
        cycle_id,
        count(*) as start_option_count
    from options
    group by cycle_id
),

lots as (
    {{ randomization_test_of_starts(
        'readable', 'drawn', keys, 'observed_on', 'score', 'start_on', 'is_chosen', 'increase'
    ) }}
),

effects as (
    select
        cycles.cycle_id,
        coalesce(counted.before_count, 0) as before_count,
        coalesce(counted.after_count, 0) as after_count,
        case
            when pairs.nap is null then 'too_early'
            when pairs.nap_low > 0.5 then 'up'
            when pairs.nap_high < 0.5 then 'down'
            else 'no_clear_change'
        end as effect_code,
        round(pairs.nap, 9) as nap,
        round(pairs.nap_low, 9) as nap_low,
        round(pairs.nap_high, 9) as nap_high,
        {{ nine_places('pairs.tau') }} as tau,
        {{ nine_places('trend_free.tau_minus_before') }} as tau_trend_free,
        {{ nine_places('means.log_ratio') }} as log_ratio,
        round(means.log_ratio_se, 9) as log_ratio_se,
        {{ nine_places('means.log_ratio_low') }} as log_ratio_low,
        {{ nine_places('means.log_ratio_high') }} as log_ratio_high,
        option_counts.start_option_count,
        round(1.0 / option_counts.start_option_count, 9) as smallest_p,
        round(lots.p_value, 9) as lot_p
    from cycles
    left join counted on cycles.cycle_id = counted.cycle_id
    left join pairs on cycles.cycle_id = pairs.cycle_id
    left join trend_free on cycles.cycle_id = trend_free.cycle_id
    left join means on cycles.cycle_id = means.cycle_id
    left join option_counts on cycles.cycle_id = option_counts.cycle_id
    left join lots on cycles.cycle_id = lots.cycle_id
)

select * from effects
