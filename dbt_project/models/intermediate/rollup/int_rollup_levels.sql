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
),

methods as (
    select
        *,
        class_count >= {{ threshold('interval_sessions') }} and class_variance > 0.0
            as has_own_spread,
        case
            when shape = 'count' then numerator
            when shape = 'session_mean' then class_mean
            when shape = 'rate' and class_count >= {{ threshold('interval_sessions') }}
                then class_mean
            else numerator / nullif(denominator, 0.0)
        end as value,
        case
            when interval_kind in ('bounds', 'none', 'wilson') then interval_kind
            when class_count >= {{ threshold('interval_sessions') }} and class_variance > 0.0
                then 't'
            when interval_kind = 'rate' then 'poisson'
            when pooled_df >= {{ pooled_df_needed() }} and pooled_variance > 0.0 then 't'
            when is_share then 'wilson'
            else 'none'
        end as method
    from summed
),

-- Few classes: the error of their mean comes from the pooled spread between visits.
prepared as (
    select
        *,
        case
            when interval_kind = 'wilson' then denominator
            else {{ effective_count('denominator', 'session_count', threshold('design_rho')) }}
        end as trials,
        case when has_own_spread then class_count else 1 end as spread_count,
        case when has_own_spread then class_count - 1 else pooled_df end as spread_df,
        case
            when has_own_spread then sqrt(class_variance)
            else sqrt(pooled_variance * inverse_sum) / nullif(class_count, 0)
        end as spread_sd
    from methods
),

bounded as (
    {{ interval_bounds('prepared') }}
),

final as (
    select
        measure_name,
        school_id,
        level_code,
        '*' as class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on,
        cast(null as string) as detail,
        session_count,
        day_count,
        class_count,
        thin_count,
        unit_count,
        numerator as numerator_count,
        denominator as denominator_count,
        value,
        low,
        high,
        low_one_sided,
        high_one_sided
    from bounded
)

select * from final
