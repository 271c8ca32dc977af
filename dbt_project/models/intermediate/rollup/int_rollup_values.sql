with cells as (
    select * from {{ ref('int_rollup_capped') }}
),

-- One figure a class: the mean of its visits; for rates of few visits, counts over minutes; for
-- shares, count over count.
scored as (
    select
        *,
        case
            when shape = 'count' then numerator
            when shape = 'session_mean' then score_sum / nullif(session_count, 0)
            when shape = 'rate' and session_count >= {{ threshold('interval_sessions') }}
                then score_sum / session_count
            else numerator / nullif(denominator, 0.0)
        end as value,
        {{ variance_from_sums('score_sum', 'score_square_sum', 'session_count') }}
            as score_variance
    from cells
),

-- Spread between visits of one class, pooled over the school's classes and routines of a term.
pooled as (
    select
        measure_name,
        school_id,
        term_id,
        sum(session_count - 1) as pooled_df,
        sum(score_variance * (session_count - 1))
        / nullif(sum(session_count - 1), 0) as pooled_variance
    from scored
    where
        scope_code = 'class'
        and window_code = 'term'
        and routine_id != '*'
        and shape in ('session_mean', 'rate')
        and session_count >= 2
    group by measure_name, school_id, term_id
),

final as (
    select
        scored.*,
        coalesce(pooled.pooled_df, 0) as pooled_df,
        pooled.pooled_variance
    from scored
    left join pooled
        on
            scored.measure_name = pooled.measure_name
            and scored.school_id = pooled.school_id
            and scored.term_id = pooled.term_id
)

select * from final
