with pupils as (
    select
        *,
        offered_count * 1.0 / present_draw_count as turn_rate
    from {{ ref('int_turn_windows') }}
    where present_draw_count > 0
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

of_classes as (
    {{ gini('pupils', ['class_id', 'term_id', 'window_code'], 'turn_rate') }}
),

totals as (
    select
        class_id,
        term_id,
        window_code,
        max(draw_day_count) as draw_day_count,
        sum(offered_count) as offered_count
    from pupils
    group by class_id, term_id, window_code
),

-- Turns are shared out inside a class: a grade's or school's figure is the mean of its classes.
placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        '*' as routine_id,
        totals.term_id,
        totals.window_code,
        totals.draw_day_count,
        totals.offered_count,
        of_classes.gini_count,
        1.0 - of_classes.gini as evenness
    from totals
    inner join level_classes on totals.class_id = level_classes.member_class_id
    inner join of_classes
        on
            totals.class_id = of_classes.class_id
            and totals.term_id = of_classes.term_id
            and totals.window_code = of_classes.window_code
),

final as (
    select
        {{ finished_row(
            value='avg(evenness)',
            numerator='sum(offered_count)',
            denominator='sum(gini_count)',
            sessions='max(draw_day_count)',
            days='max(draw_day_count)',
            units='sum(offered_count)',
            classes='count(evenness)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
