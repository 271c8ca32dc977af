with parts as (
    select * from {{ ref('int_rollup_parts') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
),

-- A substitute's day is left out of the class's own figures and kept for the school's.
scoped as (
    select
        parts.*,
        'school' as scope_code
    from parts
    union all
    select
        parts.*,
        'class' as scope_code
    from parts
    where not parts.is_substitute
),

windowed as (
    select
        windows.window_code,
        windows.term_id,
        windows.week_first_on,
        scoped.*
    from scoped
    inner join windows
        on
            scoped.class_id = windows.class_id
            and scoped.event_on between windows.first_on and windows.last_on
),

-- Each part counts for its own routine, for all routines together and for its tier.
keyed as (
    select
        windowed.*,
        windowed.routine_id as cell_routine_id,
        '*' as cell_tier_code
    from windowed
    where windowed.routine_id is not null
    union all
    select
        windowed.*,
        '*' as cell_routine_id,
        '*' as cell_tier_code
    from windowed
    union all
    select
        windowed.*,
        '*' as cell_routine_id,
        windowed.tier_code as cell_tier_code
    from windowed
    where windowed.scope_code = 'school' and windowed.tier_code is not null
),

cells as (
    select
        measure_name,
        scope_code,
        school_id,
        class_id,
        cell_routine_id as routine_id,
        cell_tier_code as tier_code,
        term_id,
        window_code,
        week_first_on,
        max(tier_code) as routine_tier_code,
        sum(session_count) as session_count,
        count(distinct event_on) filter (where session_count > 0) as day_count,
        sum(case when is_thin then session_count else 0 end) as thin_count,
        sum(unit_count) as unit_count,
        sum(numerator) as numerator_sum,
        sum(numerator_high) as numerator_high_sum,
        sum(denominator) as denominator,
        sum(score) as score_sum,
        sum(score * score) as score_square_sum
    from keyed
    group by
        measure_name,
        scope_code,
        school_id,
        class_id,
        cell_routine_id,
        cell_tier_code,
        term_id,
        window_code,
        week_first_on
)

select * from cells
