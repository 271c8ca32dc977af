{%- set keys = ['class_id', 'routine_id', 'measure_name'] -%}
{%- set most = '(1.0 - ' ~ threshold('ci_level') ~ ')' -%}
with baselines as (
    select * from {{ ref('fct_change_baselines') }}
),

points as (
    select
        *,
        school_day_number / cast({{ threshold('slope_days') }} as double) as day_unit
    from {{ ref('fct_change_points') }}
),

charted as (
    select * from points
    where mean_value is not null
),

runs as (
    {{ run_chart('points', keys, 'visit_number', 'score', threshold('run_min_points')) }}
),

slopes as (
    {{ theil_sen('charted', keys, 'day_unit', 'score', threshold('ci_level')) }}
),

trends as (
    {{ mann_kendall('charted', keys, 'visit_number', 'score') }}
),

last_points as (
    select
        {{ keys | join(', ') }},
        max_by(score, visit_number) as last_value,
        max_by(is_outside, visit_number) as is_last_outside,
        count(*) filter (where is_outside) as outside_count,
        max(mean_value) as mean_value,
        max(limit_low) as limit_low,
        max(limit_high) as limit_high,
        max_by(average_value, visit_number) as average_value,
        max(average_low) as average_low,
        max(average_high) as average_high,
        max_by(is_average_outside, visit_number) as is_average_outside
    from points
    group by {{ keys | join(', ') }}
),

signals as (
    select
        baselines.school_id,
        {{ keys_of('baselines', keys) }},
        baselines.baseline_first_on,
        baselines.baseline_code,
        baselines.last_visit_on,
        {{ run_signal('runs') }} as signal_code,
        case
            when trends.p_value is null then 'too_few'
            when trends.p_value >= {{ most }} or slopes.slope = 0.0 then 'none'
            when slopes.slope > 0.0 then 'up'
            else 'down'
        end as trend_code,
        coalesce(last_points.is_last_outside, false) as is_last_outside,
        coalesce(last_points.is_average_outside, false) as is_average_outside,
        baselines.visit_count,
        coalesce(runs.point_count, 0) as point_count,
        coalesce(runs.useful_count, 0) as useful_count,
        coalesce(runs.longest_run, 0) as longest_run,
        runs.run_limit,
        coalesce(runs.crossing_count, 0) as crossing_count,
        runs.crossing_limit,
        coalesce(last_points.outside_count, 0) as outside_count,
        round(runs.center, 9) as median_value,
        last_points.last_value,
        last_points.mean_value,
        last_points.limit_low,
        last_points.limit_high,
        last_points.average_value,
        last_points.average_low,
        last_points.average_high,
        {{ nine_places('slopes.slope') }} as slope,
        {{ nine_places('slopes.slope_low') }} as slope_low,
        {{ nine_places('slopes.slope_high') }} as slope_high,
        round(trends.p_value, 9) as trend_p
    from baselines
    left join runs on {{ same_keys('baselines', 'runs', keys) }}
    left join last_points on {{ same_keys('baselines', 'last_points', keys) }}
    left join slopes on {{ same_keys('baselines', 'slopes', keys) }}
    left join trends on {{ same_keys('baselines', 'trends', keys) }}
)

select * from signals
