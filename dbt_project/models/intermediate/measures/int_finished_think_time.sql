with draws as (
    select * from {{ ref('int_draws') }}
    where wait_seconds is not null
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        '*' as routine_id,
        draws.class_id as member_class_id,
        draws.drawn_on,
        draws.wait_seconds,
        windows.term_id,
        windows.window_code
    from draws
    inner join windows
        on
            draws.class_id = windows.class_id
            and draws.drawn_on between windows.first_on and windows.last_on
    inner join level_classes on draws.class_id = level_classes.member_class_id
),

final as (
    select
        {{ finished_row(
            value='median(wait_seconds)',
            numerator='count(*) filter (where wait_seconds >= ' ~ threshold('think_seconds') ~ ')',
            denominator='count(*)',
            sessions='count(distinct drawn_on)',
            days='count(distinct drawn_on)',
            units='count(*)',
            classes='count(distinct member_class_id)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
