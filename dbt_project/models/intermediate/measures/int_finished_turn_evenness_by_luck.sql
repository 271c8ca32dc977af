with pupils as (
    select * from {{ ref('int_turn_windows') }}
    where expected_count > 0
),

draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot and is_offered
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

-- Rounds and a queue go round; where the card goes back at once, luck decides.
methods as (
    select
        draws.class_id,
        windows.term_id,
        windows.window_code,
        count(*) filter (where draws.method = 'with_replacement') as returned_count,
        count(*) filter (where draws.method != 'with_replacement') as round_count
    from draws
    inner join windows
        on
            draws.class_id = windows.class_id
            and draws.drawn_on between windows.first_on and windows.last_on
    group by draws.class_id, windows.term_id, windows.window_code
),

-- As many pupils with equal chances as would count the same: those there for a week count little.
sizes as (
    select
        class_id,
        term_id,
        window_code,
        count(*) as pupil_count,
        cast(
            round(power(sum(expected_count), 2) / sum(power(expected_count, 2))) as bigint
        ) as equal_count,
        max(draw_day_count) as draw_day_count,
        cast(sum(offered_count) as bigint) as offered_count
    from pupils
    group by class_id, term_id, window_code
),

placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        '*' as routine_id,
        sizes.term_id,
        sizes.window_code,
        sizes.draw_day_count,
        sizes.offered_count,
        sizes.pupil_count,
        methods.returned_count,
        methods.round_count,
        {{ expected_gini('sizes.equal_count', 'methods.returned_count') }} as returned_gini,
        {{ expected_gini_in_rounds('sizes.equal_count', 'methods.round_count') }} as round_gini
    from sizes
    inner join methods
        on
            sizes.class_id = methods.class_id
            and sizes.term_id = methods.term_id
            and sizes.window_code = methods.window_code
    inner join level_classes on sizes.class_id = level_classes.member_class_id
),

-- Two independent sources of unevenness add up like the sides of a right angle.
even as (
    select
        *,
        1.0 - sqrt(
            power(coalesce(returned_gini * returned_count, 0.0), 2)
            + power(coalesce(round_gini * round_count, 0.0), 2)
        ) / (returned_count + round_count) as evenness
    from placed
),

final as (
    select
        {{ finished_row(
            value='round(avg(evenness), 9)',
            numerator='sum(offered_count)',
            denominator='sum(pupil_count)',
            sessions='max(draw_day_count)',
            days='max(draw_day_count)',
            units='sum(offered_count)',
            classes='count(evenness)'
        ) }}
    from even
    group by {{ finished_keys() }}
)

select * from final
