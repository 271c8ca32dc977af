with pupils as (
    select * from {{ ref('int_turn_windows') }}
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
        pupils.class_id as member_class_id,
        pupils.term_id,
        pupils.window_code,
        pupils.draw_day_count,
        pupils.present_draw_count,
        pupils.offered_count,
        pupils.longest_wait_days
    from pupils
    inner join level_classes on pupils.class_id = level_classes.member_class_id
    where pupils.present_draw_count > 0
),

final as (
    select
        {{ finished_row(
            value='max(longest_wait_days)',
            numerator='max(longest_wait_days)',
            denominator='count(*)',
            sessions='max(draw_day_count)',
            days='max(draw_day_count)',
            units='sum(offered_count)',
            classes='count(distinct member_class_id)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
