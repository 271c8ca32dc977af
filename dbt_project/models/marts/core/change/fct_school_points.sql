{%- set keys = ['school_id', 'routine_id', 'measure_name'] -%}
with weeks as (
    select * from {{ ref('fct_weeks_filled') }}
    where
        level_code = 'school'
        and measure_name in (
            {%- for name in offer_measures() %}
            '{{ name }}'{% if not loop.last %},{% endif %}
            {%- endfor %}
        )
),

rewordings as (
    select * from {{ ref('dim_definition_changes') }}
),

newest_changes as (
    select
        school_id,
        routine_id,
        max(changed_on) as changed_on
    from rewordings
    group by school_id, routine_id
),

-- Only weeks that are shown are points, so that a chart gives away nothing of a week that is not.
-- A week that two terms share is one point; nobody looked: no share.
points as (
    select
        {{ keys_of('weeks', keys) }},
        weeks.week_first_on,
        max(newest_changes.changed_on) as changed_on,
        max(weeks.reason) as reason,
        {%- for figure in ['session_count', 'numerator_count', 'denominator_count'] %}
        sum(weeks.{{ figure }}) filter (where weeks.reason is null) as {{ figure }},
        {%- endfor %}
        sum(weeks.numerator_count) filter (where weeks.reason is null)
        / nullif(sum(weeks.denominator_count) filter (where weeks.reason is null), 0.0) as share
    from weeks
    left join newest_changes
        on
            weeks.school_id = newest_changes.school_id
            and weeks.routine_id = newest_changes.routine_id
    where
        newest_changes.changed_on is null
        or weeks.week_first_on >= {{ week_first('newest_changes.changed_on') }}
    group by {{ keys_of('weeks', keys) }}, weeks.week_first_on
),

counted as (
    select
        *,
        count(share) over (partition by {{ keys | join(', ') }}) as point_count
    from points
),

-- Nothing is drawn around fewer points than a chart needs.
charted as (
    select * from counted
    where point_count >= {{ threshold('run_min_points') }}
),

limits as (
    {{ p_chart('charted', keys, 'week_first_on', 'numerator_count', 'denominator_count') }}
),

drawn as (
    select
        {{ keys_of('counted', keys) }},
        counted.week_first_on,
        counted.changed_on,
        counted.reason,
        cast(coalesce(counted.session_count, 0) as bigint) as session_count,
        counted.numerator_count,
        counted.denominator_count,
        round(counted.share, 9) as share,
        round(limits.center, 9) as mean_value,
        round(limits.low_wide, 9) as limit_low,
        round(limits.high_wide, 9) as limit_high,
        round(limits.spread_ratio, 9) as spread_ratio,
        coalesce(limits.is_outside_wide, false) as is_outside
    from counted
    left join limits
        on
            {{ same_keys('counted', 'limits', keys) }}
            and counted.week_first_on = limits.week_first_on
)

select * from drawn
