{%- set change_order = in_turn(['changes.changed_on', 'changes.change_code']) -%}
with visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted and not is_substitute and routine_id is not null
),

starts as (
    select * from {{ ref('int_observation_sessions') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
),

changes as (
    select * from {{ ref('dim_named_changes') }}
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

breaks as (
    select * from {{ ref('dim_breaks') }}
),

-- One score a visit: the mean of the two who watched together.
scores as (
    {%- for measure in series_measures() %}
    select
        '{{ measure }}' as measure_name,
        visits.school_id,
        visits.class_id,
        visits.routine_id,
        visits.visit_id,
        min(visits.term_id) as term_id,
        min(visits.observed_on) as observed_on,
        min(starts.started_at_local) as started_at_local,
        avg(visits.{{ measure }}_rate) as score
    from visits
    inner join classes on visits.class_id = classes.class_id
    inner join starts on visits.observation_id = starts.observation_id
    where visits.{{ measure }}_rate is not null
    group by visits.school_id, visits.class_id, visits.routine_id, visits.visit_id
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
),

-- The changes that a visit comes after, with the newest of them.
days as (
    select distinct
        class_id,
        routine_id,
        observed_on
    from scores
),

baselines as (
    select
        days.class_id,
        days.routine_id,
        days.observed_on,
        count(distinct changes.changed_on) as change_count,
        max(changes.changed_on) as changed_on,
        max_by(changes.change_code, {{ change_order }}) as change_code
    from days
    left join changes
        on
            days.class_id = changes.class_id
            and changes.routine_id in (days.routine_id, '*')
            and days.observed_on >= changes.changed_on
    group by days.class_id, days.routine_id, days.observed_on
),

-- The day after a break may be a weekend: three days on it is the week of the first day back.
weeks_back as (
    select distinct
        school_id,
        {{ week_first('last_on + interval 3 day') }} as week_first_on
    from breaks
),

placed as (
    select
        scores.school_id,
        scores.class_id,
        scores.routine_id,
        scores.measure_name,
        scores.visit_id,
        scores.term_id,
        scores.observed_on,
        row_number() over (
            partition by scores.class_id, scores.routine_id, scores.measure_name
            order by scores.observed_on, scores.started_at_local, scores.visit_id
        ) as visit_number,
        day_counts.school_days_so_far as school_day_number,
        baselines.change_count + 1 as baseline_number,
        baselines.changed_on as baseline_changed_on,
        coalesce(baselines.change_code, 'start') as baseline_code,
        weeks_back.week_first_on is not null as is_after_break,
        scores.score
    from scores
    inner join baselines
        on
            scores.class_id = baselines.class_id
            and scores.routine_id = baselines.routine_id
            and scores.observed_on = baselines.observed_on
    left join day_counts
        on
            scores.class_id = day_counts.class_id
            and scores.observed_on = day_counts.day_on
    left join weeks_back
        on
            scores.school_id = weeks_back.school_id
            and weeks_back.week_first_on = {{ week_first('scores.observed_on') }}
)

select * from placed
