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

medians as (
    {{ kaplan_meier_median('placed', finished_keys().split(', '), 'seconds', 'is_censored') }}
),

counts as (
    select
        {{ finished_keys() }},
        count(distinct visit_id) as session_count,
        count(distinct observed_on) as day_count,
        count(distinct member_class_id) as class_count
    from placed
    group by {{ finished_keys() }}
),

joined as (
    select
        counts.*,
        medians.median_time,
        medians.event_count,
        medians.event_count + medians.censored_count as timed_count
    from counts
    inner join medians
        on
            counts.school_id = medians.school_id
            and counts.level_code = medians.level_code
            and counts.class_id = medians.class_id
            and counts.grade_code = medians.grade_code
            and counts.routine_id = medians.routine_id
            and counts.term_id = medians.term_id
            and counts.window_code = medians.window_code
),

final as (
    select
        {{ finished_row(
            value='median_time',
            numerator='event_count',
            denominator='timed_count',
            sessions='session_count',
            days='day_count',
            units='timed_count',
            classes='class_count'
        ) }}
    from joined
)

select * from final
