{%- set keys = ['school_id', 'routine_id', 'measure_name'] -%}
with points as (
    select * from {{ ref('fct_school_points') }}
),

runs as (
    {{ run_chart('points', keys, 'week_first_on', 'share', threshold('run_min_points')) }}
),

series as (
    select
        {{ keys | join(', ') }},
        case when count(share) = 0 then max(reason) end as reason,
        count(*) filter (where reason is not null and share is null) as withheld_week_count,
        max(changed_on) as changed_on,
        coalesce(
            max(changed_on),
            min(week_first_on) filter (where share is not null),
            min(week_first_on)
        ) as baseline_first_on,
        max(week_first_on) filter (where share is not null) as last_week_first_on,
        sum(session_count) as session_count,
        count(*) filter (where is_outside) as outside_count,
        max_by(share, week_first_on) filter (where share is not null) as last_value,
        max(mean_value) as mean_value,
        max_by(limit_low, week_first_on) filter (where share is not null) as limit_low,
        max_by(limit_high, week_first_on) filter (where share is not null) as limit_high,
        max(spread_ratio) as spread_ratio,
        max_by(is_outside, week_first_on) filter (where share is not null) as is_last_outside
    from points
    group by {{ keys | join(', ') }}
),

signals as (
    select
        {{ keys_of('series', keys) }},
        series.reason,
        series.baseline_first_on,
        case when series.changed_on is null then 'start' else 'definition_change' end
            as baseline_code,
        series.last_week_first_on,
        {{ run_signal('runs') }} as signal_code,
        coalesce(series.is_last_outside, false) as is_last_outside,
        coalesce(runs.point_count, 0) as point_count,
        cast(series.session_count as bigint) as session_count,
        coalesce(runs.useful_count, 0) as useful_count,
        coalesce(runs.longest_run, 0) as longest_run,
        runs.run_limit,
        coalesce(runs.crossing_count, 0) as crossing_count,
        runs.crossing_limit,
        series.outside_count,
        series.withheld_week_count,
        round(runs.center, 9) as median_value,
        series.last_value,
        series.mean_value,
        series.limit_low,
        series.limit_high,
        series.spread_ratio
    from series
    left join runs on {{ same_keys('series', 'runs', keys) }}
)

select * from signals
