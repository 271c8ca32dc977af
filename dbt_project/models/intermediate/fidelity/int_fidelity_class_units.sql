with visits as (
    select * from {{ ref('int_fidelity_visits') }}
    where not is_substitute
),

exposure as (
    select * from {{ ref('int_measure_exposure') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

keyed_visits as (
    select
        visits.*,
        visits.routine_id as key_routine_id
    from visits
    where visits.routine_id is not null
    union all
    select
        visits.*,
        '*' as key_routine_id
    from visits
),

keyed_lessons as (
    select
        exposure.*,
        exposure.routine_id as key_routine_id
    from exposure
    union all
    select
        exposure.*,
        '*' as key_routine_id
    from exposure
),

-- Lessons of one week reach the same children: a week of due lessons is one unit.
units as (
    select
        school_id,
        class_id,
        key_routine_id,
        observed_on as event_on,
        'visit' as unit_kind,
        adherence,
        quality,
        responsiveness,
        0.0 as reached,
        0.0 as reached_high,
        0.0 as enrolled
    from keyed_visits
    union all
    select
        school_id,
        class_id,
        key_routine_id,
        min(event_on) as event_on,
        'week' as unit_kind,
        cast(null as double) as adherence,
        cast(null as double) as quality,
        cast(null as double) as responsiveness,
        sum(numerator) as reached,
        sum(numerator_high) as reached_high,
        sum(denominator) as enrolled
    from keyed_lessons
    group by school_id, class_id, key_routine_id, {{ week_first('event_on') }}
),

final as (
    select
        units.school_id,
        'class' as level_code,
        units.class_id,
        '*' as grade_code,
        '*' as tier_code,
        units.key_routine_id as routine_id,
        windows.term_id,
        windows.window_code,
        units.unit_kind,
        units.adherence,
        units.quality,
        units.responsiveness,
        units.reached,
        units.reached_high,
        units.enrolled
    from units
    inner join windows
        on
            units.class_id = windows.class_id
            and units.event_on between windows.first_on and windows.last_on
)

select * from final
