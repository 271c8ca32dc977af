with missed as (
    select * from {{ ref('int_newcomer_lessons') }}
),

newcomers as (
    select * from {{ ref('int_newcomers') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

-- For one routine: was it taught to the newcomer. For all together: was any that had been missed.
keyed as (
    select
        class_id,
        pupil_id,
        deadline_on,
        routine_id,
        is_reached
    from missed
    union all
    select
        newcomers.class_id,
        newcomers.pupil_id,
        newcomers.deadline_on,
        '*' as routine_id,
        max(missed.is_reached) as is_reached
    from newcomers
    inner join missed
        on
            newcomers.class_id = missed.class_id
            and newcomers.pupil_id = missed.pupil_id
            and newcomers.joined_on = missed.joined_on
    group by newcomers.class_id, newcomers.pupil_id, newcomers.joined_on, newcomers.deadline_on
),

-- A newcomer belongs to the window in which the days are over.
placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        keyed.routine_id,
        keyed.class_id as member_class_id,
        keyed.deadline_on,
        keyed.is_reached,
        windows.term_id,
        windows.window_code
    from keyed
    inner join windows
        on
            keyed.class_id = windows.class_id
            and keyed.deadline_on between windows.first_on and windows.last_on
    inner join level_classes on keyed.class_id = level_classes.member_class_id
),

counts as (
    select
        {{ finished_keys() }},
        sum(is_reached) as reached_count,
        count(*) as newcomer_count,
        count(distinct deadline_on) as day_count,
        count(distinct member_class_id) as class_count
    from placed
    group by {{ finished_keys() }}
),

final as (
    select
        {{ finished_row(
            value='reached_count * 1.0 / newcomer_count',
            numerator='reached_count',
            denominator='newcomer_count',
            sessions='newcomer_count',
            days='day_count',
            units='newcomer_count',
            classes='class_count',
            low=wilson_low('reached_count', 'newcomer_count', threshold('ci_level')),
            high=wilson_high('reached_count', 'newcomer_count', threshold('ci_level'))
        ) }}
    from counts
)

select * from final
