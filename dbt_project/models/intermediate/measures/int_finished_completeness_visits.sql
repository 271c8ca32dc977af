with windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

-- What a figure over visits needs, and what there was up to that number.
of_classes as (
    select
        windows.class_id,
        windows.term_id,
        windows.window_code,
        count(distinct sessions.visit_id) as visit_count,
        count(distinct sessions.observed_on) as day_count,
        least(count(distinct sessions.visit_id), {{ threshold('min_sessions') }}) as made_count,
        {{ threshold('min_sessions') }} as needed_count
    from windows
    left join sessions
        on
            windows.class_id = sessions.class_id
            and sessions.observed_on between windows.first_on and windows.last_on
    group by windows.class_id, windows.term_id, windows.window_code
),

placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        '*' as routine_id,
        of_classes.term_id,
        of_classes.window_code,
        of_classes.visit_count,
        of_classes.day_count,
        of_classes.made_count,
        of_classes.needed_count
    from of_classes
    inner join level_classes on of_classes.class_id = level_classes.member_class_id
),

final as (
    select
        {{ finished_row(
            value='sum(made_count) * 1.0 / nullif(sum(needed_count), 0)',
            numerator='sum(made_count)',
            denominator='sum(needed_count)',
            sessions='sum(needed_count)',
            days='sum(day_count)',
            units='sum(needed_count)',
            classes='count(*)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
