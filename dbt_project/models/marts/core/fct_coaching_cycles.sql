{%- set event_order = in_turn(['event_on', "cast(event_kind = 'close' as int)", 'event_id']) -%}

with events as (
    select * from {{ ref('int_coaching_events') }}
),

cycles as (
    select
        cycle_id,
        min(school_id) as school_id,
        min(class_id) as class_id,
        max_by(routine_id, {{ event_order }}) as routine_id,
        max_by(coach_id, {{ event_order }}) as coach_id,
        min(event_on) as started_on,
        min(event_on) filter (where phase = 'baseline') as baseline_first_on,
        coalesce(
            max(chosen_start_on), min(event_on) filter (where phase = 'coaching')
        ) as coaching_first_on,
        max(event_on) as last_event_on,
        max(event_on) filter (where event_kind = 'close') as closed_on,
        max_by(phase, {{ event_order }}) as phase,
        max(goal_measure) as goal_measure,
        max_by(outcome, {{ event_order }}) filter (where event_kind = 'close') as outcome,
        max(start_options) as start_options,
        max(chosen_start_on) as chosen_start_on,
        count(*) filter (where event_kind = 'close') = 0 as is_open,
        count(*) as event_count,
        max_by(goal_value, {{ event_order }}) filter (where goal_value is not null) as goal_value,
        sum(minutes) as minutes
    from events
    group by cycle_id
)

select * from cycles
