with latencies as (
    select * from {{ ref('stg_classroom__observation_rows') }}
    where row_type = 'latency' and value is not null
),

sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

-- Longer than the limit counts as "longer than this". A pair's two clocks are one: their mean.
transitions as (
    select
        sessions.class_id,
        sessions.routine_id,
        sessions.visit_id,
        min(sessions.observed_on) as observed_on,
        bool_or(sessions.is_substitute) as is_substitute,
        avg(least(latencies.value, {{ threshold('ready_censor_seconds') }})) as seconds,
        bool_or(
            latencies.code = 'censored'
            or latencies.value > {{ threshold('ready_censor_seconds') }}
        ) as is_censored
    from latencies
    inner join sessions on latencies.observation_id = sessions.observation_id
    group by sessions.class_id, sessions.routine_id, sessions.visit_id, latencies.row_number
),

keyed as (
    select
        transitions.*,
        transitions.routine_id as key_routine_id
    from transitions
    union all
    select
        transitions.*,
        '*' as key_routine_id
    from transitions
),

placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        keyed.key_routine_id as routine_id,
        keyed.class_id as member_class_id,
        keyed.visit_id,
        keyed.observed_on,
        keyed.seconds,
        keyed.is_censored,
        windows.term_id,
        windows.window_code
    from keyed
    inner join windows
        on
            keyed.class_id = windows.class_id
            and keyed.observed_on between windows.first_on and windows.last_on
    inner join level_classes on keyed.class_id = level_classes.member_class_id
    where level_classes.level_code != 'class' or not keyed.is_substitute
),

counts as (
    select
        {{ finished_keys() }},
        count(*) as timed_count,
        count(distinct visit_id) as session_count,
        count(distinct observed_on) as day_count,
        count(distinct member_class_id) as class_count
    from placed
    group by {{ finished_keys() }}
),

-- Transitions of one visit are alike: so many of them count as one.
weighed as (
    select
        placed.*,
        counts.timed_count / {{ effective_count(
            'counts.timed_count', 'counts.session_count', threshold('design_rho')
        ) }} as design_effect
    from placed
    inner join counts on {{ same_cell('placed', 'counts') }}
),

final as (
    {{ finished_waits('weighed', 'counts', 'seconds', 'is_censored') }}
)

select * from final
