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

counts as (
    select
        {{ finished_keys() }},
        count(*) as timed_count,
        count(*) filter (where wait_seconds >= {{ threshold('think_seconds') }}) as long_count,
        count(distinct drawn_on) as day_count,
        count(distinct member_class_id || ':' || cast(drawn_on as string)) as class_day_count,
        count(distinct member_class_id) as class_count
    from placed
    group by {{ finished_keys() }}
),

-- Waits of one class and day are alike: so many rows count as one.
weighed as (
    select
        placed.*,
        counts.timed_count / {{ effective_count(
            'counts.timed_count', 'counts.class_day_count', threshold('design_rho')
        ) }} as design_effect
    from placed
    inner join counts on {{ same_cell('placed', 'counts') }}
),

ranges as (
    {{ median_range(
        'weighed', finished_keys().split(', '), 'wait_seconds', threshold('ci_level'),
        'design_effect'
    ) }}
),

joined as (
    select
        counts.*,
        ranges.median_value,
        ranges.low as median_low,
        ranges.high as median_high
    from counts
    inner join ranges on {{ same_cell('counts', 'ranges') }}
),

final as (
    select
        {{ finished_row(
            value='median_value',
            numerator='long_count',
            denominator='timed_count',
            sessions='day_count',
            days='day_count',
            units='timed_count',
            classes='class_count',
            low='median_low',
            high='median_high'
        ) }}
    from joined
)

select * from final
