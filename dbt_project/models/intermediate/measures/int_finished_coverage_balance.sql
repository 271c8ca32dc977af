with both_sides as (
    select * from {{ ref('int_coverage_marks') }}
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
        windows.term_id,
        windows.window_code,
        both_sides.event_on,
        both_sides.setting,
        both_sides.half_code,
        both_sides.planned_weight,
        both_sides.seen_weight
    from both_sides
    inner join windows
        on
            both_sides.class_id = windows.class_id
            and both_sides.event_on between windows.first_on and windows.last_on
    inner join level_classes on both_sides.class_id = level_classes.member_class_id
),

cells as (
    select
        {{ finished_keys() }},
        setting,
        half_code,
        sum(planned_weight) as planned_weight,
        sum(seen_weight) as seen_weight,
        max(event_on) filter (where seen_weight > 0) as seen_on
    from placed
    group by {{ finished_keys() }}, setting, half_code
),

shares as (
    select
        *,
        planned_weight / nullif(sum(planned_weight) over keys, 0.0) as planned_share,
        seen_weight / nullif(sum(seen_weight) over keys, 0.0) as seen_share
    from cells
    window keys as (partition by {{ finished_keys() }})
),

final as (
    select
        {{ finished_row(
            value='1.0 - 0.5 * sum(abs(seen_share - planned_share))',
            numerator='count(*) filter (where seen_weight > 0)',
            denominator='count(*) filter (where planned_weight > 0)',
            sessions='cast(round(sum(seen_weight)) as bigint)',
            days='count(distinct seen_on)',
            units='sum(seen_weight)',
            classes='1'
        ) }}
    from shares
    group by {{ finished_keys() }}
)

select * from final
