with waits as (
    select * from {{ ref('int_lessons_after_breaks') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

keyed as (
    select
        waits.*,
        waits.routine_id as key_routine_id
    from waits
    union all
    select
        waits.*,
        '*' as key_routine_id
    from waits
),

-- A break belongs to the window in which the class came back.
placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        keyed.key_routine_id as routine_id,
        keyed.class_id as member_class_id,
        keyed.back_on,
        keyed.waited_days,
        keyed.is_censored,
        windows.term_id,
        windows.window_code
    from keyed
    inner join windows
        on
            keyed.class_id = windows.class_id
            and keyed.back_on between windows.first_on and windows.last_on
    inner join level_classes on keyed.class_id = level_classes.member_class_id
),

counts as (
    select
        {{ finished_keys() }},
        count(*) as wait_count,
        count(distinct member_class_id || ':' || cast(back_on as string)) as session_count,
        count(distinct back_on) as day_count,
        count(distinct member_class_id) as class_count
    from placed
    group by {{ finished_keys() }}
),

-- Routines of one class after one break are alike: so many of them count as one.
weighed as (
    select
        placed.*,
        counts.wait_count / {{ effective_count(
            'counts.wait_count', 'counts.session_count', threshold('design_rho')
        ) }} as design_effect
    from placed
    inner join counts on {{ same_cell('placed', 'counts') }}
),

final as (
    {{ finished_waits('weighed', 'counts', 'waited_days', 'is_censored') }}
)

select * from final
