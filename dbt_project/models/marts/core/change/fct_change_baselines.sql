with series as (
    select * from {{ ref('fct_class_series') }}
),

changes as (
    select * from {{ ref('dim_named_changes') }}
),

groups as (
    select
        school_id,
        class_id,
        routine_id,
        measure_name,
        count(*) as visit_count,
        min(observed_on) as first_visit_on,
        max(observed_on) as last_visit_on
    from series
    group by school_id, class_id, routine_id, measure_name
),

-- The newest named change, also when nobody has looked since.
newest_changes as (
    select
        groups.class_id,
        groups.routine_id,
        groups.measure_name,
        max(changes.changed_on) as changed_on,
        max_by(
            changes.change_code,
            {{ in_turn(['changes.changed_on', 'changes.change_code']) }}
        ) as change_code
    from groups
    inner join changes
        on
            groups.class_id = changes.class_id
            and changes.routine_id in (groups.routine_id, '*')
    group by groups.class_id, groups.routine_id, groups.measure_name
),

current_baselines as (
    select
        groups.school_id,
        groups.class_id,
        groups.routine_id,
        groups.measure_name,
        coalesce(newest_changes.changed_on, groups.first_visit_on) as baseline_first_on,
        coalesce(newest_changes.change_code, 'start') as baseline_code,
        groups.visit_count,
        groups.last_visit_on
    from groups
    left join newest_changes
        on
            groups.class_id = newest_changes.class_id
            and groups.routine_id = newest_changes.routine_id
            and groups.measure_name = newest_changes.measure_name
)

select * from current_baselines
