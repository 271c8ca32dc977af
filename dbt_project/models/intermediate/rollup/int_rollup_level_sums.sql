with cells as (
    select * from {{ ref('int_rollup_values') }}
    where scope_code = 'school'
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
    where level_code != 'class'
),

-- A tier is a level of the school; it has no grades.
members as (
    select
        cells.*,
        case when cells.tier_code = '*' then level_classes.level_code else 'tier' end
            as level_code,
        level_classes.grade_code
    from cells
    inner join level_classes on cells.class_id = level_classes.member_class_id
    where cells.tier_code = '*' or level_classes.level_code = 'school'
),

-- Each class counts once, however often it was visited; shares add up their counts.
summed as (
    select
        measure_name,
        shape,
        interval_kind,
        is_share,
        is_signed,
        school_id,
        level_code,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on,
        max(pooled_df) as pooled_df,
        max(pooled_variance) as pooled_variance,
        sum(session_count) as session_count,
        sum(day_count) as day_count,
        sum(thin_count) as thin_count,
        sum(unit_count) as unit_count,
        sum(numerator) as numerator,
        sum(numerator_high) as numerator_high,
        sum(denominator) as denominator,
        count(value) as class_count,
        avg(value) as class_mean,
        {{ variance_from_sums('sum(value)', 'sum(value * value)', 'count(value)') }}
            as class_variance,
        sum(1.0 / nullif(session_count, 0)) as inverse_sum
    from members
    group by
        measure_name,
        shape,
        interval_kind,
        is_share,
        is_signed,
        school_id,
        level_code,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on
)

select * from summed
