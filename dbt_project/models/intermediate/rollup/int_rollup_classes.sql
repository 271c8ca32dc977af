with cells as (
    select * from {{ ref('int_rollup_values') }}
    where scope_code = 'class' and tier_code = '*'
),

-- Enough visits: their own spread. Fewer: the school's pooled spread. Neither: Wilson on the number
-- of looks that clustered looks are worth.
methods as (
    select
        *,
        {{ effective_count('denominator', 'session_count', threshold('design_rho')) }}
            as trials_own,
        case
            when interval_kind in ('bounds', 'none') then interval_kind
            when interval_kind = 'wilson' then 'wilson'
            when session_count >= {{ threshold('interval_sessions') }} and score_variance > 0.0
                then 't'
            when interval_kind = 'rate' then 'poisson'
            when
                session_count < {{ threshold('interval_sessions') }}
                and pooled_df >= {{ pooled_df_needed() }} and pooled_variance > 0.0
                then 't'
            when is_share then 'wilson'
            else 'none'
        end as method,
        session_count >= {{ threshold('interval_sessions') }} as has_own_spread
    from cells
),

prepared as (
    select
        *,
        case when interval_kind = 'wilson' then denominator else trials_own end as trials,
        session_count as spread_count,
        case when has_own_spread then session_count - 1 else pooled_df end as spread_df,
        sqrt(case when has_own_spread then score_variance else pooled_variance end) as spread_sd
    from methods
),

bounded as (
    {{ interval_bounds('prepared') }}
),

final as (
    select
        measure_name,
        school_id,
        'class' as level_code,
        class_id,
        '*' as grade_code,
        '*' as tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on,
        cast(null as string) as detail,
        session_count,
        day_count,
        1 as class_count,
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
