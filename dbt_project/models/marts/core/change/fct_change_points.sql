{%- set keys = ['class_id', 'routine_id', 'measure_name'] -%}
with series as (
    select * from {{ ref('fct_class_series') }}
),

baselines as (
    select * from {{ ref('fct_change_baselines') }}
),

points as (
    select
        series.*,
        count(*) over (
            partition by series.class_id, series.routine_id, series.measure_name
        ) as point_count
    from series
    inner join baselines on {{ same_keys('series', 'baselines', keys) }}
    where series.observed_on >= baselines.baseline_first_on
),

-- Nothing is drawn around fewer points than a chart needs.
charted as (
    select * from points
    where point_count >= {{ threshold('run_min_points') }}
),

individuals as (
    {{ individuals_chart('charted', keys, 'visit_number', 'score') }}
),

averages as (
    {{ ewma('charted', keys, 'visit_number', 'score', threshold('ewma_weight')) }}
),

drawn as (
    select
        points.school_id,
        {{ keys_of('points', keys) }},
        points.visit_number,
        points.visit_id,
        points.observed_on,
        points.school_day_number,
        points.is_after_break,
        points.score,
        round(individuals.center, 9) as mean_value,
        case when individuals.low is not null then round(greatest(0.0, individuals.low), 9) end
            as limit_low,
        case when individuals.high is not null then round(least(1.0, individuals.high), 9) end
            as limit_high,
        coalesce(individuals.is_outside, false) as is_outside,
        round(averages.average, 9) as average_value,
        case when averages.low is not null then round(greatest(0.0, averages.low), 9) end
            as average_low,
        case when averages.high is not null then round(least(1.0, averages.high), 9) end
            as average_high,
        coalesce(averages.is_outside, false) as is_average_outside
    from points
    left join individuals
        on
            {{ same_keys('points', 'individuals', keys) }}
            and points.visit_number = individuals.visit_number
    left join averages
        on
            {{ same_keys('points', 'averages', keys) }}
            and points.visit_number = averages.visit_number
)

select * from drawn
