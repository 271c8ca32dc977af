with summed as (
    select * from {{ ref('int_rollup_level_sums') }}
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
        high_one_sided,
        {{ error_columns() }}
    from bounded
)

select * from final
